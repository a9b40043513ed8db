// Passkeys: a button that a browser can't serve stays hidden, and what goes wrong is said
// beside it.
"use strict";
(() => {
  const able = window.PublicKeyCredential && PublicKeyCredential.parseRequestOptionsFromJSON && PublicKeyCredential.parseCreationOptionsFromJSON;
  const post = async (path, body) => {
    const answer = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json", Accept: "application/json" }, body: JSON.stringify(body) });
    const said = await answer.json();
    if (!answer.ok) throw new Error(said.detail);
    return said;
  };
  const sign = async (path) => {
    const asked = await post(path + "/ask", {});
    const key = await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(asked.options) });
    return post(path, { id: asked.id, answer: key.toJSON() });
  };
  const make = async () => {
    const asked = await post("/me/passkeys/ask", {});
    const key = await navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(asked.options) });
    return post("/me/passkeys", { id: asked.id, answer: key.toJSON() });
  };
  const does = {
    make: async () => { await make(); location.reload(); },
    enter: async (button) => { await sign("/sign-in/passkey"); location.assign(button.dataset.to || "/"); },
    again: async (button) => { await sign("/me/passkeys/confirm"); button.form.submit(); },
  };
  for (const button of document.querySelectorAll("button[data-passkey]")) {
    if (!able) continue;
    const trouble = button.parentElement.nextElementSibling;
    button.hidden = false;
    button.addEventListener("click", async () => {
      trouble.textContent = "";
      try {
        await does[button.dataset.passkey](button);
      } catch (fault) {
        trouble.textContent = fault.name === "NotAllowedError" ? button.dataset.stopped : fault.message;
      }
    });
  }
})();
