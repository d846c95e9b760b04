/* <button data-copies="id">: copies what stands in that field, and selects it where the browser does not let it. */
(() => {
  document.addEventListener("click", async (event) => {
    const button = event.target.closest?.("[data-copies]");
    const field = button && document.getElementById(button.dataset.copies);
    if (!field) return;
    let copied = false;
    try { await navigator.clipboard.writeText(field.value); copied = true; } catch { copied = false; }
    if (!copied) {
      field.focus();
      field.select();
      try { copied = document.execCommand("copy"); } catch { copied = false; }
    }
    let status = button.parentElement.querySelector("[role=status]");
    if (!status) {
      status = document.createElement("p");
      status.className = "soft";
      status.setAttribute("role", "status");
      button.parentElement.append(status);
    }
    setTimeout(() => { status.textContent = copied ? "Copied" : "Selected: copy it from there"; }, 60);
  });
})();
