"use strict";
// A phone's own list of apps takes the receipt as a file, or its words where it takes none.
(() => {
  for (const button of document.querySelectorAll("[data-send]")) {
    if (!navigator.share) continue;
    button.hidden = false;
    let files;
    fetch(button.dataset.send).then((got) => got.blob()).then((blob) => {
      files = [new File([blob], button.dataset.name, { type: "application/pdf" })];
    }).catch(() => { /* no signal: the words alone */ });
    button.addEventListener("click", () => {
      const message = { text: button.dataset.text };
      if (files && navigator.canShare?.({ files })) message.files = files;
      navigator.share(message).catch(() => { /* put off */ });
    });
  }
})();
