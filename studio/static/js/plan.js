/* The plan of an order. form[data-only-typed]: its address says what was typed and nothing else, or a long plan would
   have an address that is longer than servers take. What somebody has unfolded stays so when it is solved again. */
(() => {
  document.addEventListener("formdata", (event) => {
    if (!event.target.matches("[data-only-typed]")) return;
    for (const [name, value] of [...event.formData]) if (value === "") event.formData.delete(name);
  });
  let unfolded = [];
  document.addEventListener("htmx:beforeSwap", () => {
    unfolded = [...document.querySelectorAll("#plan details[id][open]")].map((part) => part.id);
  });
  document.addEventListener("htmx:afterSwap", () => {
    for (const id of unfolded) document.getElementById(id)?.setAttribute("open", "");
  });
})();
