/* form[data-unsaved]: leaving the page asks first once something in it has been changed. */
(() => {
  const changed = new Set();
  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (form?.matches("[data-unsaved]")) changed.add(form);
  });
  document.addEventListener("submit", (event) => changed.delete(event.target));
  document.addEventListener("reset", (event) => changed.delete(event.target));
  window.addEventListener("beforeunload", (event) => {
    if ([...changed].some((form) => form.isConnected)) event.preventDefault();
  });
})();
