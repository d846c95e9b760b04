/* The wrap-up: what is typed of an item pulls along what was not, so that the three always make up what was taken, and the
   badge says what they lack. Without this the three are typed. Hours have a button for a quarter
   less and one for a quarter more. “Next” on a telephone's keys goes on to the next field: it sends nothing half counted. */
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
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.isComposing || !event.target.matches("[data-part], [data-hours]")) return;
    event.preventDefault();
    const all = [...document.querySelectorAll("[data-part], [data-hours]")];
    const next = all[all.indexOf(event.target) + 1];
    if (next) next.focus(); else event.target.blur();
  });
  document.addEventListener("focusin", (event) => { if (event.target.matches("[data-part]")) event.target.select(); });
  document.querySelectorAll("[data-wrap-up]").forEach(say);
  /* Hours go up and down by a quarter, to the next whole quarter first. */
  const minutes = (text) => {
    const clock = /^(\d+):(\d{1,2})$/.exec(text.trim());
    if (clock) return Number(clock[1]) * 60 + Number(clock[2]);
    const hours = Number(text.trim().replace(",", "."));
    return text.trim() && Number.isFinite(hours) ? Math.round(hours * 60) : NaN;
  };
  document.querySelectorAll("[data-step]").forEach((button) => {
    button.hidden = false;
    button.addEventListener("click", () => {
      const input = button.parentElement.querySelector("[data-hours]");
      const now = minutes(input.value);
      if (Number.isNaN(now)) return;
      const step = Number(button.dataset.step);
      const next = Math.max(0, step > 0 ? Math.floor(now / step) * step + step : Math.ceil(now / -step) * -step + step);
      input.value = `${Math.floor(next / 60)}:${String(next % 60).padStart(2, "0")}`;
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
  });
})();
