/* A slider says its number while it moves, and fills its track up to the thumb. */
(() => {
  const show = (slider) => {
    const low = Number(slider.min || 0), high = Number(slider.max || 100);
    slider.style.setProperty("--fill", `${(100 * (slider.value - low)) / (high - low || 1)}%`);
    const words = slider.value + (slider.dataset.unit ?? " %");
    const row = slider.closest(".slider");
    const output = (slider.id && document.querySelector(`output[for~="${CSS.escape(slider.id)}"]`)) || row?.querySelector("output");
    if (output) output.value = words;
    slider.setAttribute("aria-valuetext", words);
  };
  const showAll = (root) => root.querySelectorAll?.("input[type=range]").forEach(show);
  document.addEventListener("input", (event) => { if (event.target.type === "range") show(event.target); });
  document.addEventListener("reset", (event) => setTimeout(() => showAll(event.target)));
  document.addEventListener("htmx:load", (event) => showAll(event.target));
  window.addEventListener("pageshow", () => showAll(document));
  showAll(document);
})();
