/* What plain pages cannot do: show within two seconds what others wrote, and keep a form while the network is away.
   Everything works without it.  It never touches a field that is in use. */
"use strict";
(() => {
  const LOOK_MS = 1500, AGAIN_MS = 2000, PATIENCE_MS = 10000, KEPT = "kept";
  const body = () => document.body.dataset;
  let sending = false;

  // Whether somebody is filling something in: then nothing on the page moves.
  const inUse = () => {
    const field = document.activeElement;
    const typing = field && field.matches("input:not([type=hidden]), textarea, select");
    const changed = [...document.querySelectorAll("main input:not([type=hidden])")].some((one) =>
      one.type === "radio" || one.type === "checkbox" ? one.checked !== one.defaultChecked : one.value !== one.defaultValue);
    return changed || (typing && field.value !== "");
  };

  const show = (id, shown) => { const one = document.getElementById(id); if (one) one.hidden = !shown; };

  const fetched = async (address, options = {}) => {
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), PATIENCE_MS);
    try {
      return await fetch(address, { credentials: "same-origin", cache: "no-store", signal: patience.signal, ...options });
    } finally {
      clearTimeout(timer);
    }
  };

  // What others wrote

  const replace = (id, fresh) => {
    const old = document.getElementById(id), next = fresh.getElementById(id);
    if (old && next && old.innerHTML !== next.innerHTML && !old.contains(document.activeElement)) {
      old.replaceWith(document.importNode(next, true));
    }
  };

  const look = async () => {
    if (sending || document.hidden || !body().place) return;
    const answer = await (await fetched("/changes", { headers: { "x-waiting": "1" } })).json();
    if (body().here && !answer.here && !inUse()) return location.assign(`/at/${body().place}/who`);
    if (answer.version === body().version) return;
    const page = await fetched(location.href, { headers: { "x-waiting": "1" } });
    if (!page.ok) return;
    if (page.redirected && new URL(page.url).pathname !== location.pathname) {
      if (!inUse()) location.assign(page.url);
      return;
    }
    const fresh = new DOMParser().parseFromString(await page.text(), "text/html");
    if (sending) return;
    ["bands", "told", "round"].forEach((id) => replace(id, fresh));
    body().version = fresh.body.dataset.version;
  };

  const every = async (wait, work) => {
    for (;;) {
      await new Promise((done) => setTimeout(done, wait));
      try { await work(); } catch { /* the network is away: the next look tells */ }
    }
  };
  every(LOOK_MS, look);

  setInterval(() => {
    for (const left of document.querySelectorAll("[data-seconds]")) {
      const seconds = Number(left.textContent) - 1;
      left.textContent = String(Math.max(seconds, 0));
      if (seconds <= 0) left.closest("form").hidden = true;
    }
  }, 1000);

  // A form that is sent once, even over a network that goes away.  Secure pages only: elsewhere the browser sends it.

  const put = (html, address) => {
    const fresh = new DOMParser().parseFromString(html, "text/html");
    document.body.replaceWith(document.importNode(fresh.body, true));
    document.title = fresh.title;
    const first = document.querySelector("[autofocus]");
    if (first) { first.focus(); if (first.select) first.select(); }
    history.replaceState(null, "", address);
    window.scrollTo(0, 0);
  };

  const send = async (address, data, since) => {
    sending = true;
    document.querySelectorAll("main button").forEach((button) => { button.disabled = true; });
    try {
      for (;;) {
        try {
          data.set("waited", String(Math.round((Date.now() - since) / 1000)));
          const answer = await fetched(address, { method: "POST", body: data });
          if (answer.status === 503 || answer.status === 429) throw new Error("busy");
          if (new URL(answer.url).pathname.endsWith("/who") && !address.endsWith("/who")) {
            keep(address, data, since);  // who sent it has to say again who is here
            return location.assign(answer.url);
          }
          sessionStorage.removeItem(KEPT);
          if (answer.redirected) return location.assign(answer.url);
          return put(await answer.text(), location.href);
        } catch {
          keep(address, data, since);
          show("waiting", true);
          await new Promise((done) => setTimeout(done, AGAIN_MS));
        }
      }
    } finally {
      sending = false;
      document.querySelectorAll("main button").forEach((button) => { button.disabled = false; });
    }
  };

  // Text alone is kept over a reload: a photo is not.
  const keep = (address, data, since) => {
    const texts = [...data.entries()].filter(([, value]) => typeof value === "string");
    if (!address.endsWith("/who")) {
      sessionStorage.setItem(KEPT, JSON.stringify({ address, since, texts, here: body().here }));
    }
  };

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("[data-keep]") || !window.isSecureContext || sending) {
      if (sending) event.preventDefault();
      return;
    }
    event.preventDefault();
    send(form.action, new FormData(form, event.submitter), Date.now());
  });

  // A scanner is a keyboard: a code begins with a star and ends with Enter.  It is held back from the field that is open
  // and sent in the field that waits for it; what turns out to be no code is typed where it was meant to go.

  const CODE = /^\*[BIGRS][A-Za-z0-9][A-Za-z0-9._-]*$/i, BETWEEN_KEYS_MS = 400;
  let held = "", waits;

  const typed = (text) => {
    const field = document.activeElement;
    if (!text || !field || typeof field.setRangeText !== "function" || field.type === "file") return;
    field.setRangeText(text, field.selectionStart, field.selectionEnd, "end");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };

  const letGo = () => { clearTimeout(waits); const text = held; held = ""; typed(text); };

  const scanned = (code) => {
    const open = document.activeElement && document.activeElement.form;
    const form = [open, ...document.querySelectorAll("main form")].find((one) => one && one.elements.scanned);
    if (!form || sending) return;
    form.elements.scanned.value = code;
    form.requestSubmit();
  };

  // A value with Enter goes into one field and the next into the next; Enter never signs.
  const goOn = (field) => {
    const fields = [...field.form.querySelectorAll("[data-next]")];
    const next = [...fields.slice(fields.indexOf(field) + 1), ...fields].find((one) => one.value.trim() === "");
    if (next) next.focus(); else field.blur();
  };

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    if (held && event.key === "Enter" && CODE.test(held)) {
      event.preventDefault();
      event.stopPropagation();
      clearTimeout(waits);
      const code = held;
      held = "";
      return scanned(code);
    }
    if (held ? /^[A-Za-z0-9._-]$/.test(event.key) : event.key === "*") {
      event.preventDefault();
      event.stopPropagation();
      held += event.key;
      clearTimeout(waits);
      waits = setTimeout(letGo, BETWEEN_KEYS_MS);
      return;
    }
    if (event.key !== "Shift") letGo();
    if (event.key === "Enter" && event.target.matches("[data-next]")) {
      event.preventDefault();
      goOn(event.target);
    }
  }, true);

  const kept = JSON.parse(sessionStorage.getItem(KEPT) || "null");
  if (kept && kept.here && kept.here === body().here) {
    const data = new FormData();
    kept.texts.forEach(([name, value]) => data.append(name, value));
    data.set("token", document.querySelector("input[name=token]").value);
    show("waiting", true);
    send(kept.address, data, kept.since);
  } else if (kept) {
    show("waiting", true);
  }
})();
