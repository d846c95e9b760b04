/* <button data-share-url data-share-title data-share-text>: the phone's own share sheet, or copy and mail where there is none.
   The page holds the link itself too, so that it can be copied by hand without any of this. */
(() => {
  const say = (button, words) => {
    let status = button.parentElement.querySelector("[data-share-status]");
    if (!status) {
      status = document.createElement("p");
      status.setAttribute("role", "status");
      status.dataset.shareStatus = "";
      status.className = "soft";
      button.parentElement.append(status);
    }
    /* A region that is new and filled at once is not read out. */
    setTimeout(() => { status.textContent = words; }, 60);
  };
  const selectByHand = (button, url) => {
    const field = document.createElement("input");
    field.readOnly = true;
    field.value = url;
    field.setAttribute("aria-label", "The link");
    button.parentElement.append(field);
    field.select();
    let copied = false;
    try { copied = document.execCommand("copy"); } catch { copied = false; }
    if (copied) field.remove();
    return copied;
  };
  const copy = async (button, url) => {
    let copied = false;
    try { await navigator.clipboard.writeText(url); copied = true; } catch { copied = selectByHand(button, url); }
    say(button, copied ? "Link copied" : "Copy the link from the box");
  };
  const offerOthers = (button, { url, title, text }) => {
    if (button.parentElement.querySelector(".share-links")) return;
    const box = document.createElement("div");
    box.className = "share-links";
    const copier = document.createElement("button");
    copier.type = "button";
    copier.className = "button small";
    copier.textContent = "Copy the link";
    copier.addEventListener("click", () => copy(copier, url));
    const mail = document.createElement("a");
    mail.className = "button small";
    mail.textContent = "Send by mail";
    mail.href = `mailto:?subject=${encodeURIComponent(title)}&body=${encodeURIComponent(`${text}\n\n${url}`.trim())}`;
    box.append(copier, mail);
    button.after(box);
    copier.focus();
  };
  document.addEventListener("click", async (event) => {
    const button = event.target.closest?.("[data-share-url]");
    if (!button) return;
    event.preventDefault();
    const url = new URL(button.dataset.shareUrl, location.href).href;
    const shared = { url, title: button.dataset.shareTitle || document.title, text: button.dataset.shareText || "" };
    if (!navigator.share) { offerOthers(button, shared); return; }
    try { await navigator.share(shared); } catch (error) { if (error.name !== "AbortError") offerOthers(button, shared); }
  });
})();
