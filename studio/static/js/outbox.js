/* An enquiry that is typed is kept on this phone first, under a key of its own, and dropped only when the studio's
   machine has answered that very key. form[data-enquiry] is sent this way; #outbox says on every page what waits.
   One tab sends at a time. What is refused stays, to be mended; what needs a sign-in stays until then. */
(() => {
  const box = document.getElementById("outbox");
  if (!box || !window.isSecureContext || !window.indexedDB || !navigator.locks || !crypto.randomUUID) return;
  const { kept: KEPT, enquiry: ENQUIRY, signIn: SIGN_IN, list: LIST, worker: WORKER } = box.dataset;
  const VERSION = 1, STORE = "enquiries", LOCK = "garlandry-outbox", DAY = 24, SOONEST = 5_000, LATEST = 300_000;
  const form = document.querySelector("form[data-enquiry]");
  const others = new BroadcastChannel(LOCK);
  let opened, waiting = [], signedOut = false, pause = SOONEST, timer, said = "";

  /* --- what is kept --- */
  const open = () => new Promise((yes, no) => {
    const asked = indexedDB.open("garlandry", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE, { keyPath: "key" });
    asked.onerror = () => no(asked.error);
    asked.onsuccess = () => { asked.result.onversionchange = () => { asked.result.close(); opened = undefined; }; yes(asked.result); };
  });
  const within = async (mode, act) => {
    const database = await (opened ||= open());
    return new Promise((yes, no) => {
      const change = database.transaction(STORE, mode, { durability: "strict" });
      const asked = act(change.objectStore(STORE));
      change.oncomplete = () => yes(asked?.result);
      change.onerror = change.onabort = () => no(change.error);
    });
  };
  const all = async () => (await within("readonly", (store) => store.getAll())).sort((one, two) => (one.typedAt < two.typedAt ? -1 : 1));
  const one = (key) => within("readonly", (store) => store.get(key));
  const keep = (item) => within("readwrite", (store) => store.put(item));
  const drop = (key) => within("readwrite", (store) => store.delete(key));
  /* Only as it was sent: what somebody changed meanwhile is another matter, and stays. */
  const settle = (sent, changes) => within("readwrite", (store) => {
    const asked = store.get(sent.key);
    asked.onsuccess = () => {
      if (asked.result?.saved !== sent.saved) return;
      if (changes) store.put({ ...asked.result, ...changes }); else store.delete(sent.key);
    };
  });

  /* --- sending --- */
  const ask = async (options = {}) => {
    try {
      return await fetch(KEPT, { redirect: "manual", cache: "no-store", signal: AbortSignal.timeout(15_000), ...options });
    } catch { return null; }
  };
  const shut = (answer) => answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403;
  const bodyOf = (answer) => answer.json().catch(() => null);
  /* "stop" where the next one would fare no better. */
  const send = async (item, token, live) => {
    const { key, version, typedAt, fields } = item;
    const answer = await ask({
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": token },
      body: JSON.stringify({ key, version, typed_at: typedAt, fields, live }),
    });
    if (!answer) return { stop: true };
    if (shut(answer)) { signedOut = true; return { stop: true }; }
    const told = await bodyOf(answer);
    if (told?.key !== key) return {};
    if (answer.ok) { await settle(item); return { url: told.url }; }
    if (answer.status === 422) { await settle(item, { state: "refused", errors: told.errors }); return { errors: told.errors }; }
    if (answer.status === 409) { await settle(item, { state: "arrived", url: told.url }); return { arrived: told.url }; }
    return {};
  };
  /* Sends all that wait, one at a time and the oldest first; what became of the one under `key`. */
  const flush = (key, options = { ifAvailable: true }) => navigator.locks.request(LOCK, options, async (lock) => {
    if (!lock) return {};
    const items = (await all()).filter((item) => item.state === "waiting");
    if (!items.length) return {};
    let became = {};
    const answer = await ask();
    signedOut = Boolean(answer && shut(answer));
    const token = answer?.ok && (await bodyOf(answer))?.token;
    if (token) {
      for (const item of items) {
        const { stop, ...told } = await send(item, token, item.key === key);
        if (item.key === key) became = told;
        if (stop) break;
      }
    }
    others.postMessage("changed");
    return became;
  });
  const again = async () => {
    clearTimeout(timer);
    try { await flush(); await show(); } catch { /* Storage that fails now may do later. */ }
    pause = waiting.some((item) => item.state === "waiting") && !signedOut ? Math.min(pause * 2, LATEST) : SOONEST;
    timer = setTimeout(again, waiting.length ? pause : 60_000);
  };

  /* --- saying so --- */
  const element = (tag, words, more = {}) => Object.assign(document.createElement(tag), { textContent: words }, more);
  const hoursOf = (item) => (Date.now() - Date.parse(item.typedAt)) / 3_600_000;
  const age = (hours) => {
    const [many, unit] = hours < 1 ? [Math.floor(hours * 60), "minute"] : hours < 48 ? [Math.floor(hours), "hour"] : [Math.floor(hours / 24), "day"];
    return many < 1 ? "just now" : `${many} ${unit}${many > 1 ? "s" : ""}`;
  };
  const named = ({ fields }) => fields.name || fields.phone || fields.email || "An enquiry";
  const asText = () => waiting.map((item) => [`Typed ${new Date(item.typedAt).toLocaleString()}`,
    ...Object.entries(item.fields).map(([field, value]) => `${field.replace("_", " ")}: ${value}`)].join("\n")).join("\n\n----\n\n");
  const saveText = () => {
    const url = URL.createObjectURL(new Blob([asText()], { type: "text/plain" }));
    element("a", "", { href: url, download: "enquiries-not-sent.txt" }).click();
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
  };
  const button = (words, act) => {
    const made = element("button", words, { type: "button", className: "button quiet" });
    made.addEventListener("click", act);
    return made;
  };
  const link = (words, href) => element("a", words, { href, className: "button quiet" });
  const row = (item) => {
    const line = element("li", "", { className: "row" }), main = element("div", "", { className: "row-main" });
    const note = { refused: "Not taken: it needs a change.", arrived: "Arrived before, with other words. Compare the two, then throw this one away." };
    main.append(element("bdi", named(item), { className: "row-title" }), element("p", note[item.state] || `Waiting, ${age(hoursOf(item))}`, { className: "row-note" }));
    const end = element("div", "", { className: "row-end" });
    if (item.state === "arrived") end.append(link("See it", item.url));
    if (item.state !== "arrived") end.append(link(item.state === "refused" ? "Mend it" : "Open", `${ENQUIRY}#kept-${item.key}`));
    if (item.state !== "waiting") end.append(button("Throw away", async () => {
      if (!confirm(`Throw away the enquiry from ${named(item)}? It is only on this phone.`)) return;
      await drop(item.key);
      others.postMessage("changed");
      await show();
    }));
    line.append(main, end);
    return line;
  };
  const show = async () => {
    waiting = await all();
    box.hidden = !waiting.length;
    const oldest = Math.max(0, ...waiting.map(hoursOf)), many = waiting.length;
    box.className = oldest >= DAY ? "notice short" : "notice";
    const mend = waiting.filter((item) => item.state === "refused").length;
    const words = `${many} ${many > 1 ? "enquiries are" : "enquiry is"} waiting on this phone, ${many > 1 ? "the oldest " : ""}${age(oldest)}.`
      + (signedOut ? " Sign in to send." : "") + (mend ? ` ${mend} to mend.` : "")
      + (oldest >= DAY ? " It is more than a day old and nowhere else: find signal, or save it as text." : "");
    const now = waiting.map((item) => item.key + item.state).join() + words;
    if (now === said) return;
    said = now;
    const actions = element("div", "", { className: "button-row" });
    if (signedOut) actions.append(link("Sign in", SIGN_IN));
    actions.append(button("Send now", () => { pause = SOONEST; again(); }), button("Save as text", saveText));
    const list = element("ul", "", { className: "rows" });
    list.append(...waiting.map(row));
    const more = document.createElement("details");
    more.open = Boolean(box.querySelector("details")?.open) || mend > 0;
    more.append(element("summary", "What is waiting"), list);
    box.replaceChildren(element("p", words, { role: "status" }), actions, more);
  };

  /* --- the form --- */
  const clearErrors = () => {
    form.querySelectorAll(".kept-errors").forEach((made) => made.remove());
    form.querySelectorAll("[aria-invalid]").forEach((field) => field.removeAttribute("aria-invalid"));
  };
  const showErrors = (errors) => {
    clearErrors();
    const summary = element("div", "", { className: "error-summary kept-errors", tabIndex: -1 }), list = document.createElement("ul");
    summary.setAttribute("role", "alert");
    summary.append(element("h2", "Not taken yet: please look at this. It is kept on this phone."), list);
    for (const [name, sentences] of Object.entries(errors)) {
      const field = document.getElementById(`id_${name}`), entry = document.createElement("li");
      const label = field?.labels?.[0]?.textContent.trim();
      const words = sentences.join(" ");
      entry.append(field ? element("a", `${label}: ${words}`, { href: `#id_${name}` }) : words);
      list.append(entry);
      if (!field) continue;
      field.setAttribute("aria-invalid", "true");
      field.after(element("ul", "", { className: "errorlist kept-errors" }));
      field.nextElementSibling.append(element("li", words));
    }
    form.prepend(summary);
    summary.focus();
  };
  const keyField = () => form.elements.form_key || form.appendChild(element("input", "", { type: "hidden", name: "form_key" }));
  const fill = async () => {
    const key = location.hash.startsWith("#kept-") && location.hash.slice(6);
    const item = form && key && (await one(key));
    if (!item) return;
    form.reset();
    for (const [name, value] of Object.entries(item.fields)) if (form.elements[name]) form.elements[name].value = value;
    keyField().value = key;
    form.elements.phone.dispatchEvent(new Event("change", { bubbles: true }));
    if (item.state === "refused") showErrors(item.errors); else clearErrors();
  };
  const note = (words) => {
    form.querySelector("[data-kept]")?.remove();
    const made = element("p", words, { className: "notice covered", tabIndex: -1 });
    made.dataset.kept = "";
    made.setAttribute("role", "status");
    form.prepend(made);
    made.focus();
  };
  const typed = () => {
    const left = new Set(["csrfmiddlewaretoken", "form_key", "use"]), fields = {};
    for (const [name, value] of new FormData(form)) if (!left.has(name) && typeof value === "string" && value.trim()) fields[name] = value;
    return fields;
  };
  let busy = false;
  const keepAndSend = async () => {
    const fields = typed(), key = keyField().value || crypto.randomUUID();
    keyField().value = key;
    const before = await one(key);
    await keep({ key, version: VERSION, typedAt: before?.typedAt || new Date().toISOString(), saved: crypto.randomUUID(), state: "waiting", fields });
    navigator.storage?.persist?.();
    others.postMessage("changed");
    const late = new Promise((yes) => setTimeout(yes, 8_000, {}));
    const became = navigator.onLine ? await Promise.race([flush(key, {}), late]) : {};
    if (became.url) { location.assign(became.url); return; }
    if (became.errors) {
      await show();
      showErrors(became.errors);
      /* Whom the number belongs to is asked beside it. */
      if (became.errors.who) form.elements.phone.dispatchEvent(new Event("change", { bubbles: true }));
      return;
    }
    if (!(await one(key))) { location.assign(LIST); return; }
    clearErrors();
    form.reset();
    form.querySelectorAll(".says").forEach((row) => row.replaceChildren());
    keyField().value = crypto.randomUUID();
    if (location.hash) history.replaceState(null, "", location.pathname);
    await show();
    note(signedOut ? "Saved on this phone. Sign in to send it." : "Saved on this phone. It is sent when there is signal.");
    clearTimeout(timer);
    timer = setTimeout(again, SOONEST);
  };
  document.addEventListener("submit", async (event) => {
    const sent = event.target;
    if (sent.action?.endsWith("/sign-out/") && waiting.length
      && !confirm(`${waiting.length} of your enquiries did not reach the studio yet. They stay on this phone until somebody signs in here. Sign out all the same?`)) {
      event.preventDefault();
      event.stopImmediatePropagation();
    }
    if (sent !== form || event.submitter?.formAction.endsWith("/read/") || event.defaultPrevented) return;
    /* Asked again once storage has failed, so the browser sends it the plain way. */
    if (form.dataset.plain) return;
    event.preventDefault();
    if (busy) return;
    busy = true;
    const pressed = form.querySelector("button.primary"), words = pressed.textContent;
    pressed.textContent = "Saving…";
    try {
      await keepAndSend();
    } catch {
      form.dataset.plain = "yes";
      if (form.elements.csrfmiddlewaretoken) form.requestSubmit();
      else note("This phone could not keep it. Copy what you typed before you leave this page.");
    } finally {
      busy = false;
      pressed.textContent = words;
    }
  }, true);

  others.onmessage = () => { show().catch(() => {}); };
  window.addEventListener("online", () => { pause = SOONEST; again(); });
  window.addEventListener("hashchange", fill);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { pause = SOONEST; again(); } });
  navigator.serviceWorker?.register(WORKER).catch(() => {});
  show().then(fill).then(again).catch(() => {});
})();
