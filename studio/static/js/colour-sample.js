/* [data-sample="id of a colour field"]: a colour taken from a photo. The photo is drawn on a canvas of this page and goes
   nowhere. Pressing or dragging moves the point, the arrow keys too (with Shift ten times as far); the field gets the
   mean of the small square around it, added up as light. */
(() => {
  const LARGEST = 1600, PATCH = 4, LOUPE = 44, ZOOM = 6;
  const linear = (value) => (value <= 10.31475 ? value / 3294.6 : ((value / 255 + 0.055) / 1.055) ** 2.4);
  const coded = (light) => Math.round(255 * (light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055));
  const hex = (channels) => `#${channels.map((value) => value.toString(16).padStart(2, "0")).join("")}`;

  const meanAround = (photo, x, y) => {
    const left = Math.max(0, Math.min(x - PATCH, photo.width - 1)), top = Math.max(0, Math.min(y - PATCH, photo.height - 1));
    const wide = Math.min(photo.width, x + PATCH + 1) - left, high = Math.min(photo.height, y + PATCH + 1) - top;
    const { data } = photo.getContext("2d").getImageData(left, top, wide, high);
    const sums = [0, 0, 0];
    for (let n = 0; n < data.length; n += 4) for (let c = 0; c < 3; c += 1) sums[c] += linear(data[n + c]);
    return hex(sums.map((sum) => coded(sum / (data.length / 4))));
  };

  const start = (box) => {
    const field = document.getElementById(box.dataset.sample);
    const typed = document.getElementById(box.dataset.sampleClears || "");
    const [chooser, canvas, status] = ["input", "canvas", "[role=status]"].map((name) => box.querySelector(name));
    const screen = box.querySelector("[data-sample-screen]");
    const photo = document.createElement("canvas");
    photo.getContext("2d", { willReadFrequently: true });
    const at = { x: 0, y: 0 };
    let shown = 1;
    box.hidden = false;

    const put = (colour, words) => {
      field.value = colour;
      if (typed) typed.value = "";
      field.dispatchEvent(new Event("input", { bubbles: true }));
      status.textContent = words;
    };
    const draw = (colour) => {
      const pen = canvas.getContext("2d"), sharp = canvas.width / (photo.width * shown);
      const x = (at.x + 0.5) * shown * sharp, y = (at.y + 0.5) * shown * sharp, r = LOUPE * sharp;
      pen.drawImage(photo, 0, 0, canvas.width, canvas.height);
      /* The loupe stands above the finger, or below it at the top edge. */
      const cx = Math.max(r, Math.min(x, canvas.width - r)), cy = y > 2.4 * r ? y - 1.4 * r : y + 1.4 * r;
      const seen = (2 * r) / (ZOOM * sharp * shown);
      pen.save();
      pen.beginPath(); pen.arc(cx, cy, r, 0, 2 * Math.PI); pen.clip();
      pen.fillStyle = colour; pen.fillRect(cx - r, cy - r, 2 * r, 2 * r);
      pen.drawImage(photo, at.x + 0.5 - seen / 2, at.y + 0.5 - seen / 2, seen, seen, cx - r, cy - r, 2 * r, 2 * r);
      pen.restore();
      for (const [colourOf, width] of [["#fffdf9", 9], [colour, 6]]) {
        pen.strokeStyle = colourOf; pen.lineWidth = width * sharp;
        pen.beginPath(); pen.arc(cx, cy, r, 0, 2 * Math.PI); pen.stroke();
      }
      for (const [colourOf, width] of [["#fffdf9", 4], ["#211c2b", 2]]) {
        pen.strokeStyle = colourOf; pen.lineWidth = width * sharp;
        pen.beginPath(); pen.arc(x, y, 8 * sharp, 0, 2 * Math.PI); pen.stroke();
        pen.strokeRect(cx - 5 * sharp, cy - 5 * sharp, 10 * sharp, 10 * sharp);
      }
    };
    const take = (x, y) => {
      at.x = Math.max(0, Math.min(Math.round(x), photo.width - 1));
      at.y = Math.max(0, Math.min(Math.round(y), photo.height - 1));
      const colour = meanAround(photo, at.x, at.y);
      draw(colour);
      const place = `${Math.round((100 * at.x) / photo.width)} % across, ${Math.round((100 * at.y) / photo.height)} % down`;
      put(colour, `${colour}, taken ${place}. It is in the swatch.`);
    };
    const fit = () => {
      if (canvas.hidden || !photo.width) return;
      shown = Math.min(box.clientWidth / photo.width, (0.6 * window.innerHeight) / photo.height);
      const sharp = window.devicePixelRatio || 1;
      canvas.width = Math.max(1, Math.round(photo.width * shown * sharp));
      canvas.height = Math.max(1, Math.round(photo.height * shown * sharp));
      canvas.style.width = `${photo.width * shown}px`;
      canvas.style.height = `${photo.height * shown}px`;
    };

    chooser.addEventListener("change", async () => {
      if (!chooser.files.length) return;
      let read;
      try { read = await createImageBitmap(chooser.files[0]); } catch {
        canvas.hidden = true;
        status.textContent = "This file cannot be read as a photo here. Choose a JPEG, PNG or WebP.";
        return;
      }
      const smaller = Math.min(1, LARGEST / Math.max(read.width, read.height));
      photo.width = Math.max(1, Math.round(read.width * smaller));
      photo.height = Math.max(1, Math.round(read.height * smaller));
      const pen = photo.getContext("2d");
      /* What is see-through is taken as white, as it looks on a page. */
      pen.fillStyle = "#fff"; pen.fillRect(0, 0, photo.width, photo.height);
      pen.drawImage(read, 0, 0, photo.width, photo.height);
      read.close();
      canvas.hidden = false;
      canvas.style.touchAction = "none";
      fit();
      take(photo.width / 2, photo.height / 2);
    });
    const pointed = (event) => {
      const edge = canvas.getBoundingClientRect();
      take((event.clientX - edge.left) / shown - 0.5, (event.clientY - edge.top) / shown - 0.5);
    };
    canvas.addEventListener("pointerdown", (event) => { canvas.setPointerCapture(event.pointerId); pointed(event); });
    canvas.addEventListener("pointermove", (event) => { if (canvas.hasPointerCapture(event.pointerId)) pointed(event); });
    canvas.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!way) return;
      event.preventDefault();
      const far = Math.max(1, Math.round(Math.max(photo.width, photo.height) / 200)) * (event.shiftKey ? 10 : 1);
      take(at.x + way[0] * far, at.y + way[1] * far);
    });
    window.addEventListener("resize", () => { if (!canvas.hidden) { fit(); draw(field.value); } });

    if (screen && "EyeDropper" in window) {
      screen.hidden = false;
      screen.addEventListener("click", async () => {
        try {
          const { sRGBHex } = await new window.EyeDropper().open();
          put(sRGBHex.toLowerCase(), `${sRGBHex.toLowerCase()}, picked from the screen. It is in the swatch.`);
        } catch { status.textContent = "Nothing was picked."; }
      });
    }
  };
  document.querySelectorAll("[data-sample]").forEach(start);
})();
