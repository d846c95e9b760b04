/* The wrap-up: what is typed of an item pulls along what was not, so that the three always make up what was taken, and the
   badge says what they lack. Without this the three are typed. */
(() => {
  const figure = (input) => (/^\d+$/.test(input.value.trim()) ? Number(input.value) : 0);
  const typed = new WeakSet();
  const part = (line, name) => line.querySelector(`[data-part=${name}]`);
  const say = (line) => {
    const taken = Number(line.dataset.wrapUp);
    const rest = taken - ["used", "popped", "home"].reduce((sum, name) => sum + figure(part(line, name)), 0);
    const badge = line.querySelector("[data-sum]");
    badge.hidden = rest === 0;
    badge.className = `badge ${rest < 0 ? "short" : "waiting"}`;
    badge.textContent = rest < 0 ? `${-rest} more than taken` : `${rest} lost`;
  };
  document.addEventListener("input", (event) => {
    const line = event.target.matches("[data-part]") && event.target.closest("[data-wrap-up]");
    if (!line) return;
    typed.add(event.target);
    const given = ["home", "used"].map((name) => part(line, name)).find((input) => !typed.has(input));
    if (given) {
      const others = ["used", "popped", "home"].map((name) => part(line, name)).filter((input) => input !== given);
      given.value = Math.max(0, Number(line.dataset.wrapUp) - others.reduce((sum, input) => sum + figure(input), 0));
    }
    say(line);
  });
  document.addEventListener("focusin", (event) => { if (event.target.matches("[data-part]")) event.target.select(); });
  document.querySelectorAll("[data-wrap-up]").forEach(say);
})();
