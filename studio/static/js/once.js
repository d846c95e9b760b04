/* A form is sent once: its button says so and rests until the page is shown again. */
(() => {
  const resting = new Map();
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.method !== "post" || form.target === "_blank") return;
    if (form.dataset.sent) { event.preventDefault(); return; }
    form.dataset.sent = "yes";
    const button = event.submitter || form.querySelector("button:not([type=button])");
    /* After the browser has read the form: a disabled button would not be sent with it. */
    setTimeout(() => {
      if (!button) return;
      resting.set(button, button.textContent);
      button.textContent = button.dataset.saving || "Saving…";
      button.disabled = true;
    });
  });
  window.addEventListener("pageshow", () => {
    document.querySelectorAll("form[data-sent]").forEach((form) => delete form.dataset.sent);
    resting.forEach((words, button) => { button.textContent = words; button.disabled = false; });
    resting.clear();
  });
})();
