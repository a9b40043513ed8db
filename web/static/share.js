"use strict";
// The message is a text to copy and a link to an e-mail without this. With it, one tap
// copies it, a phone's own list of apps takes it, and the e-mail holds what was changed.
(() => {
  const text = (button, what) => document.getElementById(button.dataset[what]);
  for (const button of document.querySelectorAll("[data-copy]")) {
    const from = text(button, "copy");
    button.hidden = false;
    button.addEventListener("click", async () => {
      try {
        await navigator.clipboard.writeText(from.value);
      } catch { // not allowed, or a page without TLS
        from.select();
        document.execCommand("copy");
      }
      document.getElementById("copied").hidden = false;
    });
  }
  for (const button of document.querySelectorAll("[data-share]")) {
    if (!navigator.share) continue;
    button.hidden = false;
    button.addEventListener("click", () => navigator.share({ text: text(button, "share").value }).catch(() => { /* put off */ }));
  }
  for (const link of document.querySelectorAll("[data-mail]")) {
    const from = text(link, "mail");
    from.addEventListener("input", () => {
      const [head] = link.getAttribute("href").split("&body=");
      link.setAttribute("href", head + "&body=" + encodeURIComponent(from.value.replaceAll("\n", "\r\n")));
    });
  }
})();
