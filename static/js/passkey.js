// Asks the browser for a passkey, or to make one, and sends its answer with the form. Without it a code is typed.
const form = document.querySelector("form[data-passkey]");
const ask = form?.querySelector("[data-ask]");

const bytes = text => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), letter => letter.charCodeAt(0));
const text = buffer => btoa(String.fromCharCode(...new Uint8Array(buffer)))
  .replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
const described = list => (list ?? []).map(one => ({ ...one, id: bytes(one.id) }));

function wanted(options) {
  const publicKey = { ...options, challenge: bytes(options.challenge) };
  if (options.user) publicKey.user = { ...options.user, id: bytes(options.user.id) };
  if (options.excludeCredentials) publicKey.excludeCredentials = described(options.excludeCredentials);
  if (options.allowCredentials) publicKey.allowCredentials = described(options.allowCredentials);
  return { publicKey };
}

function told(credential) {
  const response = {};
  for (const part of ["clientDataJSON", "attestationObject", "authenticatorData", "signature", "userHandle"]) {
    if (credential.response[part]) response[part] = text(credential.response[part]);
  }
  return JSON.stringify({ id: credential.id, rawId: text(credential.rawId), type: credential.type, response });
}

if (ask && window.PublicKeyCredential) {
  const options = JSON.parse(document.getElementById("passkey-options").textContent);
  const fault = form.querySelector("[data-fault]");
  ask.hidden = false;
  ask.addEventListener("click", async () => {
    fault.hidden = true;
    try {
      const call = form.dataset.passkey === "add" ? "create" : "get";
      form.querySelector("[data-answer]").value = told(await navigator.credentials[call](wanted(options)));
      form.submit();
    } catch {
      fault.textContent = "The browser gave no passkey. Try once more, or use the code of an app.";
      fault.hidden = false;
    }
  });
}
