/* The pull list: what somebody else ticks shows here too, a few seconds later. Nothing is fetched while the page is out of
   sight, while a tick is on its way, or while a number is being typed. */
(() => {
  const EVERY = 3000;
  let under_way = 0;
  const list = () => document.getElementById("pull");
  const rests = (place) => !place.querySelector("details[open]") && !document.activeElement?.matches("#pull input");
  document.addEventListener("htmx:beforeRequest", () => { under_way += 1; });
  document.addEventListener("htmx:afterRequest", () => { under_way = Math.max(0, under_way - 1); });
  const ask = () => {
    const place = list();
    if (place && !document.hidden && !under_way && rests(place)) window.htmx?.trigger(place, "refresh");
  };
  setInterval(ask, EVERY);
  document.addEventListener("visibilitychange", ask);
})();
