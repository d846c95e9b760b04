/* The count of the shelf. After one item is kept the next one's figure is ready to be typed; and where the browser reads
   barcodes, the camera fills in what to find. */
(() => {
  document.addEventListener("htmx:afterSwap", (event) => {
    const row = document.getElementById(event.target.id) || event.target;
    const wrong = row.querySelector?.(".errorlist, .errors");
    const next = wrong ? row : row.nextElementSibling;
    (row.querySelector?.("form.count-entry .errors") ? row : next)?.querySelector("input:not([type=hidden])")?.focus();
  });

  const button = document.querySelector("[data-scan]");
  const box = document.querySelector("[data-scan-view]");
  if (!button || !("BarcodeDetector" in window) || !navigator.mediaDevices?.getUserMedia) return;
  button.hidden = false;
  const video = box.querySelector("video");
  const status = box.querySelector("[role=status]");
  let stream = null;
  const stop = () => {
    stream?.getTracks().forEach((track) => track.stop());
    stream = null;
    box.hidden = true;
    button.textContent = "Scan";
  };
  const look = async (detector) => {
    if (!stream) return;
    let found = [];
    try { found = await detector.detect(video); } catch { found = []; }
    if (!stream) return;
    if (found.length === 0) { setTimeout(() => look(detector), 150); return; }
    const field = document.getElementById("find");
    field.value = found[0].rawValue;
    stop();
    field.form.submit();
  };
  button.addEventListener("click", async () => {
    if (stream) { stop(); return; }
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
    } catch {
      box.hidden = false;
      video.hidden = true;
      status.textContent = "The camera cannot be used here. Type the barcode instead.";
      return;
    }
    box.hidden = false;
    video.hidden = false;
    button.textContent = "Stop";
    status.textContent = "Hold the barcode in front of the camera.";
    video.srcObject = stream;
    await video.play();
    look(new window.BarcodeDetector());
  });
  window.addEventListener("pagehide", stop);
})();
