/* The client's quote: the total follows what is chosen, and a picture opens large. Amounts are added, never reckoned:
   data-asks holds price, tax and deposit in whole minor units, and the server decides again when the form is sent. */
(() => {
  const bar = document.querySelector("[data-choosing]");
  if (bar) {
    const sample = bar.dataset.sample, places = Number(bar.dataset.places);
    const first = sample.search(/\d/), after = sample.search(/\d\D*$/) + 1;
    const figure = sample.slice(first, after);
    const group = /\d/.test(figure[1]) ? "" : figure[1];
    const point = places ? figure[figure.length - places - 1] : "";
    const shown = (minor) => {
      const digits = String(minor).padStart(places + 1, "0"), cut = digits.length - places;
      const whole = digits.slice(0, cut).replace(/\B(?=(\d{3})+$)/g, group);
      return sample.slice(0, first) + whole + point + digits.slice(cut) + sample.slice(after);
    };
    const inputs = [...document.querySelectorAll("[data-asks]")];
    const extras = inputs.filter((input) => input.type === "checkbox");
    const follow = () => {
      const sums = [0, 0, 0];
      const chosen = inputs.filter((input) => input.checked);
      chosen.forEach((input) => input.dataset.asks.split(" ").forEach((minor, n) => { sums[n] += Number(minor); }));
      const [price, tax, deposit] = sums, all = { price, tax, deposit, total: price + tax };
      document.querySelectorAll("[data-sum]").forEach((place) => { place.textContent = shown(all[place.dataset.sum]); });
      document.querySelector("[name=total_seen]").value = all.total;
      const ticked = extras.filter((input) => input.checked).length;
      const said = chosen.filter((input) => input.dataset.name).map((input) => input.dataset.name);
      if (extras.length) said.push(`${ticked || "no"} extra${ticked === 1 ? "" : "s"}`);
      const words = said.join(", ");
      bar.querySelector("[data-said]").textContent = words.charAt(0).toUpperCase() + words.slice(1);
    };
    inputs.forEach((input) => input.addEventListener("change", follow));
    /* A browser brings back what was ticked before the page was left. */
    window.addEventListener("pageshow", follow);
    document.querySelectorAll(".recount").forEach((button) => { button.hidden = true; });
  }

  const dialog = document.createElement("dialog");
  if (!dialog.showModal) return;
  dialog.className = "looked-into";
  dialog.innerHTML = '<div class="through" tabindex="0"><img alt=""></div><div class="button-row"><button class="button" type="button" data-closer></button><button class="button" type="button" data-done>Done</button></div>';
  const through = dialog.firstChild, image = through.firstChild, closer = dialog.querySelector("[data-closer]");
  const go = (close, x = .5, y = .5) => {
    dialog.classList.toggle("close", close);
    closer.textContent = close ? "See all of it" : "Closer";
    if (close) through.scrollTo(x * through.scrollWidth - through.clientWidth / 2, y * through.scrollHeight - through.clientHeight / 2);
  };
  const is_close = () => dialog.classList.contains("close");
  closer.addEventListener("click", () => go(!is_close()));
  through.addEventListener("click", (event) => go(!is_close(), event.clientX / innerWidth, event.clientY / innerHeight));
  dialog.querySelector("[data-done]").addEventListener("click", () => dialog.close());
  document.body.append(dialog);
  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-zoom]");
    if (!link || event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    const small = link.querySelector("img");
    image.src = small.src;
    image.alt = small.alt;
    dialog.setAttribute("aria-label", small.alt);
    through.setAttribute("aria-label", "The picture, to scroll in");
    go(false);
    dialog.showModal();
    dialog.querySelector("[data-done]").focus();
  });
})();
