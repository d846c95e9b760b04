/* A part of a page that asked and was not answered says so: beside what was pressed, and in #unanswered for those who
   listen. What is to be mended (422) comes with its own words. <p data-unanswered hidden> in a form is its own place. */
(() => {
  const SAID = {
    0: "No answer came. Look to your connection, then try again.",
    403: "Refused: you are signed out, or this is not yours to do. Open the page anew, then try again.",
    404: "Not done: what this was about is gone. Open the page anew to see how things stand.",
    409: "Not done: somebody changed this meanwhile. Open the page anew to see how things stand.",
    413: "Not done: that is more than can be sent at once.",
    429: "Not done: that was too often. Wait a minute, then try again.",
  };
  const ROWS = ".chips, .cluster, .button-row, .share";
  const notes = new Map();
  const heard = () => document.getElementById("unanswered");
  const hush = (pressed) => {
    for (const [one, note] of notes) {
      if (one.isConnected && one !== pressed) continue;
      if (note.hasAttribute("data-unanswered")) note.hidden = true; else note.remove();
      notes.delete(one);
    }
  };
  const place = (pressed) => {
    const own = pressed.querySelector("[data-unanswered]");
    if (own) return own;
    const note = document.createElement("p");
    note.className = "notice short";
    (pressed.closest(ROWS) || pressed).after(note);
    return note;
  };
  const say = ({ detail }) => {
    const pressed = detail.requestConfig?.elt || detail.elt, status = detail.xhr?.status || 0;
    const kept = pressed.closest("form") ? " What you typed is still here." : "";
    const words = (SAID[status] || (status < 500 ? `Refused (${status}). Open the page anew, then try again.` : `Not done: the studio’s machine failed (${status}). Try again in a moment.`)) + kept;
    hush(pressed);
    const note = place(pressed);
    note.textContent = words;
    note.hidden = false;
    notes.set(pressed, note);
    if (!heard() || note.closest("[role=status]")) return;
    /* The same words a second time are read out only where they were gone meanwhile. */
    heard().textContent = "";
    setTimeout(() => { heard().textContent = words; }, 60);
  };
  ["htmx:sendError", "htmx:timeout", "htmx:responseError", "htmx:swapError"].forEach((kind) => document.addEventListener(kind, say));
  document.addEventListener("htmx:beforeRequest", ({ detail }) => hush(detail.elt));
})();
