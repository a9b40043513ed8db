"use strict";
// Finds a customer while the name is typed, takes the place where the phone is, and reads a
// list from a file. Without it the pages do the same by links and typing.
(() => {
  const form = document.querySelector("main form[method=post]");
  const found = document.getElementById("found");
  if (form && found && form.elements.customer_id) {
    const name = form.elements.customer_name, id = form.elements.customer_id;
    let asked = 0, timer = 0;
    const address = form.elements.customer_address, phone = form.elements.customer_phone;
    let came = id.value ? [address.value, phone.value] : null; // with who was picked
    const pick = (one) => {
      came = [one.address, one.phone];
      name.value = one.name;
      address.value = one.address;
      phone.value = one.phone;
      id.value = one.id;
      found.hidden = true;
      form.dispatchEvent(new Event("input", { bubbles: true }));
      form.elements.quantity.focus();
    };
    const show = (list) => {
      found.replaceChildren(...list.map((one) => {
        const li = document.createElement("li"), b = document.createElement("button"), who = document.createElement("span");
        b.type = "button";
        who.className = "who";
        who.textContent = [one.address.split("\n")[0], one.phone].filter(Boolean).join(", ");
        b.append(one.name, " ", who);
        b.addEventListener("click", () => pick(one));
        li.append(b);
        return li;
      }));
      found.hidden = !list.length;
    };
    name.addEventListener("input", () => {
      id.value = "";
      if (came?.[0] === address.value && came[1] === phone.value) address.value = phone.value = ""; // it is somebody else now
      came = null;
      clearTimeout(timer);
      const text = name.value.trim(), turn = ++asked;
      if (text.length < 2) { show([]); return; }
      timer = setTimeout(async () => {
        try {
          const answer = await fetch("/customers?find=" + encodeURIComponent(text), { headers: { Accept: "application/json" } });
          if (answer.ok && turn === asked) show((await answer.json()).customers.slice(0, 5));
        } catch { /* without a connection the name is typed whole */ }
      }, 150);
    });
  }

  const here = document.querySelector("[data-here]");
  if (here && navigator.geolocation && window.isSecureContext) {
    here.hidden = false;
    here.addEventListener("click", () => navigator.geolocation.getCurrentPosition((at) => {
      here.form.elements[here.dataset.here || "place"].value = at.coords.latitude.toFixed(6) + ", " + at.coords.longitude.toFixed(6);
      document.getElementById("here-failed").textContent = "";
    }, () => { document.getElementById("here-failed").textContent = here.dataset.failed; }, { enableHighAccuracy: true, timeout: 15000 }));
  }

  const file = document.querySelector("[data-into]");
  if (file) {
    file.closest("[data-file]").hidden = false;
    file.addEventListener("change", async () => {
      if (file.files.length) form.elements[file.dataset.into].value = await file.files[0].text();
    });
  }
})();
