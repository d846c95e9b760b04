/* Drawing on a photo. The two lists of points in the form are the drawing: whatever changes them is sent, and the garland
   comes back. Without this they are typed. */
(() => {
  const upload = document.querySelector("[data-photo-form]");
  upload?.querySelector("[type=file]").addEventListener("change", () => upload.requestSubmit());
  const form = document.getElementById("sketch-form");
  if (!form) return;
  const MOST = 60, STEPS = ["mark", "draw"];
  const all = (what) => [...form.querySelectorAll(what)], one = (what) => form.querySelector(what), field = form.elements;
  const canvas = one("[data-canvas]"), loupe = one("[data-loupe]"), { width, height } = canvas.viewBox.baseVal;
  const [halo, line, dotted] = canvas.children;
  const lists = { mark: field.marks, draw: field.path }, points = {}, done = [], undone = [], dots = [];
  let step = "mark", held = null, stroke = null;

  const pixel = () => 1 / (canvas.getScreenCTM()?.a || 1);
  const clamp = (x, y) => [Math.min(width, Math.max(0, x)), Math.min(height, Math.max(0, y))];
  const place = (event) => { const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(canvas.getScreenCTM().inverse()); return clamp(at.x, at.y); };
  const on = (name, act) => canvas.addEventListener(name, act);
  const far = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const state = () => JSON.stringify([lists.mark.value, lists.draw.value, field.known.value]);
  const set = (it, values) => Object.entries(values).forEach(([name, value]) => it.setAttribute(name, value));

  const render = () => {
    const list = points[step], u = pixel(), shown = stroke ? [] : list;
    const drawn = stroke || (step === "mark" && list.length > 2 ? [...list, list[0]] : list);
    for (const it of [halo, line]) set(it, { points: drawn.join(" ") });
    canvas.dataset.step = step;
    one("[data-undo]").disabled = done.length < 2;
    one("[data-redo]").disabled = !undone.length;
    while (dots.length > shown.length) dots.pop().remove();
    shown.forEach(([x, y], n) => {
      dots[n] ??= dotted.appendChild(document.createElementNS(canvas.namespaceURI, "circle"));
      const label = `${step === "mark" ? "Mark" : "Point"} ${n + 1} of ${list.length}, ${x | 0} across, ${y | 0} down`;
      set(dots[n], { cx: x, cy: y, r: (step === "mark" ? 11 : 8) * u, tabindex: 0, role: "button", "aria-label": label });
    });
    loupe.classList.toggle("shown", !!held);
    if (!held) return;
    const [x, y] = list[held.n], r = 26 * u;
    set(loupe, { viewBox: `${x - r} ${y - r} ${2 * r} ${2 * r}` });
    set(loupe.lastElementChild, { d: `M${x - r} ${y}h${2 * r}M${x} ${y - r}v${2 * r}` });
    loupe.classList.toggle("right", x < width / 2 && y < height / 2);
  };
  const send = (it) => it.dispatchEvent(new Event("input", { bubbles: true }));
  const commit = () => {
    for (const name of STEPS) lists[name].value = points[name].map((p) => p.map((v) => +v.toFixed(1))).join("\n");
    if (done.at(-1) !== state()) { done.push(state()); undone.length = 0; }
    render();
    send(lists[step]);
  };
  const load = () => {
    for (const name of STEPS) points[name] = [...lists[name].value.matchAll(/([\d.]+)\s*,\s*([\d.]+)/g)].map((found) => [+found[1], +found[2]]);
    render();
  };
  const choose = () => all("[data-for]").forEach((it) => { it.hidden = it.dataset.for !== field.known.value; });
  const travel = (from, to) => {
    if (from.length < (from === done ? 2 : 1)) return;
    to.push(from.pop());
    [lists.mark.value, lists.draw.value, field.known.value] = JSON.parse(done.at(-1));
    load(); choose(); send(form);
  };

  /* A hand trembles: points move towards their neighbours, and what lies on a line goes (Douglas, Peucker). */
  const smooth = (list) => list.map((p, n) => n && n < list.length - 1 ? p.map((v, i) => (list[n - 1][i] + 2 * v + list[n + 1][i]) / 4) : p);
  const thinned = (list, near) => {
    const a = list[0], b = list.at(-1), length = far(a, b);
    let worst = near, at = 0;
    list.forEach((p, n) => {
      const off = length ? Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length : far(a, p);
      if (off > worst) { worst = off; at = n; }
    });
    return at ? [...thinned(list.slice(0, at + 1), near).slice(0, -1), ...thinned(list.slice(at), near)] : [a, b];
  };
  const simplified = (list) => {
    let near = 2 * pixel(), found = thinned(smooth(smooth(list)), near);
    while (found.length > MOST) found = thinned(found, near *= 1.5);
    return found;
  };
  const go = (to) => {
    step = to;
    all("[data-panel]").forEach((panel) => { panel.hidden = panel.dataset.panel !== step; });
    all(".chip[data-step]").forEach((chip) => set(chip, { "aria-pressed": chip.dataset.step === step }));
    one(".sketch-stage").scrollIntoView({ block: "nearest" });
    render();
  };

  on("pointerdown", (event) => {
    if (!event.isPrimary || event.button) return;
    event.preventDefault();
    const at = place(event), near = points[step].map((p, n) => [far(p, at), n]).sort((a, b) => a[0] - b[0])[0];
    if (near?.[0] < 26 * pixel()) {
      const n = near[1], was = points[step][n];
      held = { n, was, off: [was[0] - at[0], was[1] - at[1]] };
      dots[n].focus({ preventScroll: true });
    } else if (step === "draw") stroke = [at];
    else return;
    canvas.setPointerCapture(event.pointerId);
    render();
  });
  on("pointermove", (event) => {
    if (!event.isPrimary || !(held || stroke)) return;
    for (const move of [...event.getCoalescedEvents?.() ?? [], event]) {
      const at = place(move);
      if (held) points[step][held.n] = clamp(at[0] + held.off[0], at[1] + held.off[1]);
      else if (far(at, stroke.at(-1)) > 2 * pixel()) stroke.push(at);
    }
    render();
  });
  on("pointerup", (event) => {
    if (!event.isPrimary || !(held || stroke)) return;
    const length = stroke?.reduce((sum, p, n) => sum + far(p, stroke[n - 1] ?? p), 0) ?? far(held.was, points[step][held.n]);
    const counts = length > (stroke ? 12 * pixel() : 0);
    if (stroke && counts) points.draw = simplified([...stroke, place(event)]);
    held = stroke = null;
    if (counts) commit(); else render();
  });
  on("pointercancel", () => { if (held) points[step][held.n] = held.was; held = stroke = null; render(); });

  on("keydown", (event) => {
    const n = dots.indexOf(event.target), list = points[step], by = pixel() * (event.shiftKey ? 20 : 2);
    const way = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[event.key];
    if ((event.ctrlKey || event.metaKey) && event.key === "z") travel(done, undone);
    else if (n < 0) return;
    else if (way) list[n] = clamp(list[n][0] + way[0], list[n][1] + way[1]);
    else if (step === "draw" && ["Delete", "Backspace"].includes(event.key) && list.length > 2) list.splice(n, 1);
    else return;
    event.preventDefault();
    commit();
    dots[Math.min(n, dots.length - 1)]?.focus();
  });
  form.addEventListener("input", (event) => {
    if (event.target === lists.mark || event.target === lists.draw) load();
    if (event.target.name !== "known") return;
    const x = width * .36, y = height * .3, [right, low] = [width - x, height - y];
    points.mark = field.known.value === "length" ? [[x, low], [right, low]] : [[x, y], [right, y], [right, low], [x, low]];
    choose(); commit();
  });
  form.addEventListener("click", (event) => {
    const data = event.target.closest("[type=button]")?.dataset ?? {};
    if (data.step) go(data.step);
    if ("undo" in data) travel(done, undone);
    if ("redo" in data) travel(undone, done);
    if ("clear" in data) { points.draw = []; commit(); }
    if ("door" in data) { [field.known_width.value, field.known_height.value] = data.door.split("|"); send(form); }
    if ("add" in data) {
      const [x, y] = points.draw.at(-1) ?? [width * .24, height * .3];
      points.draw.push(clamp(x + width * .06, y)); commit(); dots.at(-1).focus();
    }
  });
  new ResizeObserver(() => points[step] && render()).observe(canvas);
  all("[data-scripted]").forEach((it) => { it.hidden = false; });
  load(); choose(); done.push(state());
  go(points.draw.length ? "draw" : "mark");
})();
