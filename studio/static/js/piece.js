/* The piece editor: shares keep adding up to 100 while one is moved, and a line's disc takes its colour.
   Without this the server says what is missing and offers to scale the shares. */
(() => {
  const moved = [];
  let active = null, rest = new Map(), balancing = false;
  const percent = (input) => Number.parseInt(input.value, 10) || 0;
  /* What was moved longest ago gives way first, so a share just set is left alone. */
  const givesWay = (one, other) => moved.indexOf(one[0].name) - moved.indexOf(other[0].name) || other[1] - one[1];
  const balance = (group, input) => {
    if (input !== active) {
      active = input;
      rest = new Map([...group.querySelectorAll("[data-share]")].filter((other) => other !== input).map((other) => [other, percent(other)]));
      if (moved.includes(input.name)) moved.splice(moved.indexOf(input.name), 1);
      moved.push(input.name);
    }
    let slack = 100 - percent(input) - [...rest.values()].reduce((sum, share) => sum + share, 0);
    for (const [other, share] of [...rest].filter(([, share]) => share > 0).sort(givesWay)) {
      const next = Math.min(100, Math.max(0, share + slack));
      slack -= next - share;
      if (percent(other) === next) continue;
      other.value = next;
      other.dispatchEvent(new Event("input", { bubbles: true }));
    }
  };
  const paint = (line) => {
    const colour = line.querySelector("[data-line-colour]").selectedOptions[0], size = line.querySelector("[data-line-size]").value;
    const disc = line.querySelector(".disc"), text = disc.querySelector("text");
    disc.setAttribute("color", colour.dataset.swatch);
    text.setAttribute("fill", colour.dataset.ink);
    text.textContent = size;
  };
  document.addEventListener("input", (event) => {
    const group = event.target.matches("[data-share]") && event.target.closest("[data-shares]");
    if (group && !balancing) {
      balancing = true;
      try { balance(group, event.target); } finally { balancing = false; }
    }
    const line = event.target.matches("select") && event.target.closest("[data-line]");
    if (line) paint(line);
  });
  document.addEventListener("htmx:afterSettle", () => {
    document.querySelectorAll("[data-errors]").forEach((place) => {
      document.getElementById(place.dataset.errors)?.setAttribute("aria-invalid", String(place.childElementCount > 0));
    });
  });
  /* What is pressed goes before what is typed. While a press is on its way the redraw waits, as it would take its place
     (hx-sync), and so does the next press, whose button the answer may replace. What has an hx-sync of its own goes alone. */
  const form = document.getElementById("piece-form"), waiting = [];
  const isPress = (it) => it !== form && form?.contains(it) && !it.hasAttribute("hx-sync");
  let underway = null;
  const redraw = () => window.htmx.trigger(form, "input");
  const again = ({ name, value }) => {
    const button = form.querySelector(`button[name="${name}"][value="${CSS.escape(value)}"]`);
    if (!button) return;
    /* One that has just come would still send the form as a whole. */
    window.htmx.process(button);
    button.click();
  };
  document.addEventListener("htmx:confirm", (event) => {
    const pressed = event.detail.elt;
    if (!underway || !(pressed === form || isPress(pressed))) return;
    event.preventDefault();
    if (pressed !== form) waiting.push(() => again(pressed));
    else if (!waiting.includes(redraw)) waiting.push(redraw);
  });
  document.addEventListener("htmx:beforeRequest", ({ detail }) => { if (isPress(detail.elt)) underway = detail.xhr; });
  document.addEventListener("htmx:afterRequest", ({ detail }) => {
    if (detail.xhr !== underway) return;
    underway = null;
    const next = waiting.splice(0);
    setTimeout(() => next.forEach((go) => go()));
  });
  /* A button that has just gone leaves the focus where it stood, and raises no keyboard. */
  let pressedIn = null;
  document.addEventListener("htmx:beforeRequest", (event) => { pressedIn = event.target.closest?.("fieldset")?.id ?? null; });
  document.addEventListener("htmx:afterSettle", () => {
    if (pressedIn && document.activeElement === document.body) document.getElementById(pressedIn)?.focus({ preventScroll: true });
  });
})();
