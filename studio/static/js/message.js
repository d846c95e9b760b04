/* What a message says is offered beside each field (button.chip[data-use]). Using one fills its field, tells the page
   that it changed, and offers what stood there before; [data-no] puts the offers of a field away until they are others. */
(() => {
  const APPENDED = { length: "Length", colour: "Colour" };
  const refused = new Set();
  const offer = (chip) => `${chip.dataset.use}=${chip.dataset.value}`;
  const put = (field, value) => {
    field.value = value;
    field.dispatchEvent(new Event("change", { bubbles: true }));
    if (field.id !== "id_wants") field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const back = (row, field, before) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "chip add";
    button.append("Put back ", Object.assign(document.createElement("bdi"), { textContent: before.slice(0, 40) }));
    button.addEventListener("click", () => { put(field, before); button.remove(); field.focus(); });
    row.replaceChildren(button);
  };
  document.addEventListener("click", ({ target }) => {
    const chip = target.closest("[data-use]"), no = target.closest("[data-no]"), row = target.closest(".says");
    if (chip) {
      const { use, value } = chip.dataset, field = document.getElementById(`id_${use in APPENDED ? "wants" : use}`);
      if (use in APPENDED) {
        refused.add(offer(chip));
        put(field, `${field.value.trimEnd()}\n${APPENDED[use]}: ${value}`);
        const next = chip.nextElementSibling;
        chip.remove();
        if (!row.querySelector("[data-use]")) row.replaceChildren();
        (next?.isConnected ? next : field).focus({ preventScroll: true });
        return;
      }
      const before = field.value;
      put(field, value);
      if (before && before !== value) back(row, field, before); else row.replaceChildren();
      field.focus({ preventScroll: true });
    } else if (no && row) {
      row.querySelectorAll("[data-use]").forEach((one) => refused.add(offer(one)));
      row.replaceChildren();
      document.getElementById(row.id.replace("says-", "id_"))?.focus({ preventScroll: true });
    }
  });
  /* What was declined once is not offered again by the next keystroke. */
  document.addEventListener("htmx:afterSettle", () => document.querySelectorAll(".says").forEach((row) => {
    row.querySelectorAll("[data-use]").forEach((one) => { if (refused.has(offer(one))) one.remove(); });
    if (row.querySelector("[data-no]") && !row.querySelector("[data-use]")) row.replaceChildren();
  }));
  /* Without signal nothing is asked while somebody types: the enquiry itself is what has to be kept. */
  document.addEventListener("htmx:beforeRequest", (event) => {
    if (!navigator.onLine && event.detail.elt.closest("[data-enquiry]")) event.preventDefault();
  });
})();
