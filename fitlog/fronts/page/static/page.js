"use strict";
// What only a browser can do: answers kept on the phone until the log has them, one step at a time,
// a keypad, the screen kept awake. Without it the page works all the same.
(() => {
  const body = document.body, say = body.dataset;
  const OUT = "fitlog.out";
  const read = () => { try { return JSON.parse(localStorage.getItem(OUT)) || []; } catch { return []; } };
  const write = (list) => localStorage.setItem(OUT, JSON.stringify(list));
  const drop = (raw) => write(read().filter((one) => one.raw !== raw));
  const fresh = () => Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, "0")).join("");

  // --- answers -------------------------------------------------------------------------------
  const strip = document.getElementById("kept");
  let sending = false, wait = 1000, timer = 0, why = null;

  // What is said already stays, so that a touch on it finds it and nobody hears it twice.
  function tell(...parts) {
    const now = document.createElement("p");
    now.append(...parts);
    if (strip.innerHTML === now.innerHTML) return;
    strip.replaceChildren(...now.childNodes);
    strip.hidden = !strip.textContent;
  }

  function look() {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = say.look;
    button.addEventListener("click", () => send(true));
    return button;
  }

  function show() {
    const list = read();
    if (!list.length) return tell("");
    const more = why ? why.map((one) => one.cloneNode(true)) : [];
    if (list[0].refused) return tell(say.refused, " ", look(), ...more);
    tell(say.kept + (list.length > 1 ? " (" + list.length + ")" : ""), ...more);
  }

  // Why an answer waits, as the server's sentence, and where to go about it.
  function reason(text) {
    const page = new DOMParser().parseFromString(text, "text/html"), sentence = document.createElement("span");
    sentence.className = "why";
    sentence.append(page.querySelector("[data-code]")?.textContent ?? "");
    return [sentence, ...page.querySelectorAll("a[data-way]")].filter((one) => one.pathname !== location.pathname);
  }

  // A refused answer stands first until its writer has dealt with it; nothing behind it goes out.
  async function send(again) {
    const list = read();
    if (sending || !list.length || (list[0].refused && !again)) return show();
    sending = true;
    const one = list[0];
    // What says nothing of the answer is not this page's server, but a network's own page, say: it stays here, as with no network.
    let reply = null, told = null, text = "";
    try {
      reply = await fetch(one.to, {
        method: "POST", body: one.body, headers: { "Content-Type": "application/x-www-form-urlencoded", "Fitlog-Script": "1" },
        signal: AbortSignal.timeout ? AbortSignal.timeout(20000) : undefined,
      });
      const answer = reply.headers.get("Fitlog-Answer");
      if (answer && answer !== "logged") text = await reply.text();
      told = answer;
    } catch { /* no network, or no server */ }
    sending = false;
    if (told === "logged") {
      drop(one.raw);
      wait = 1000;
      tell(say.stored);
      if (read().length) return send(false);
      if (leaving) return location.replace(reply.headers.get("Fitlog-Next"));
      return show();
    }
    if (told === "not-logged") {
      const now = read();
      if (now[0] && now[0].raw === one.raw) { now[0].refused = true; write(now); }
      if (leaving || again) return replace(text, one.raw);
      return show();
    }
    why = told === "waits" ? reason(text) : null;
    show();
    clearTimeout(timer);
    timer = setTimeout(() => send(false), wait);
    wait = Math.min(wait * 2, 15000);
  }

  // The server's own page about an answer that it did not take.
  function replace(text, raw) {
    const page = new DOMParser().parseFromString(text, "text/html");
    document.title = page.title;
    for (const name of Array.from(body.attributes)) body.removeAttribute(name.name);
    for (const name of Array.from(page.body.attributes)) body.setAttribute(name.name, name.value);
    body.replaceChildren(strip, ...Array.from(page.body.children).filter((one) => one.id !== "kept"));
    const back = document.querySelector("[data-code] + p a");
    if (back && !document.querySelector("[data-drop], [data-instead]")) back.dataset.drop = raw;
    leaving = false;
    dress();
    show();
    scrollTo(0, 0);
    const head = document.querySelector("h1");
    if (head) { head.tabIndex = -1; head.focus(); }
  }

  let leaving = false;
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("[data-deed]")) return;
    event.preventDefault();
    if (form.dataset.sent) return;
    form.dataset.sent = "1";
    const fields = new URLSearchParams(new FormData(form));
    const list = read();
    const instead = Boolean(list.length) && list[0].raw === form.dataset.instead;
    if (form.dataset.instead) drop(form.dataset.instead);
    const before = read().filter((one) => one.to === form.getAttribute("action")).pop();
    const raw = fresh();
    fields.set("key", raw);
    if (say.by) fields.set("by", say.by);
    if (before && !instead) fields.set("seen", "k" + before.raw);
    const one = { raw, to: form.getAttribute("action"), body: fields.toString(), at: Date.now() };
    // What was said after the one that this stands for had seen it.
    const rest = read().map((kept) => (instead ? { ...kept, body: kept.body.replace("seen=k" + list[0].raw, "seen=k" + raw) } : kept));
    try {
      write(instead ? [one, ...rest] : [...rest, one]);
    } catch { return form.submit(); } // no room here: straight to the server
    leaving = true;
    for (const button of document.querySelectorAll("button")) button.disabled = button.form === form || button.getAttribute("form") === form.id;
    show();
    send(false).then(() => { if (leaving && read().some((kept) => kept.raw === raw)) goOn(form); });
  });

  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-drop]");
    if (link) drop(link.dataset.drop);
  });

  // Not delivered: the next question is on this page already, and is asked.
  function goOn(form) {
    const here = form.closest("[data-question]");
    if (!here) return;
    const next = here.nextElementSibling;
    here.hidden = true;
    if (next && next.matches("[data-question]")) {
      next.hidden = false;
      scrollTo(0, 0);
    } else {
      const said = document.createElement("p");
      said.className = "asks";
      said.textContent = say.waiting;
      here.after(said);
    }
  }

  addEventListener("online", () => { wait = 1000; send(false); });
  addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); else send(false); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { wait = 1000; send(false); awake(); } });

  // --- what others say ------------------------------------------------------------------------
  let stream = null;
  function watch() {
    if (stream) stream.close();
    stream = null;
    const { setup, seen } = body.dataset;
    if (!setup || !window.EventSource) return;
    stream = new EventSource("/s/" + setup + "/events?seen=" + seen);
    stream.onmessage = (event) => {
      if (leaving || "e" + event.data === seen) return;
      const band = document.getElementById("moved");
      if (!band) return;
      band.textContent = body.dataset.moved + " ";
      const link = document.createElement("a");
      link.href = location.href;
      link.textContent = body.dataset.look;
      band.append(link);
      band.hidden = false;
    };
  }
  addEventListener("pagehide", () => { if (stream) stream.close(); });

  // --- the hand ---------------------------------------------------------------------------------
  async function awake() {
    try { await navigator.wakeLock.request("screen"); } catch { /* not offered here */ }
  }

  // One step at a time; the foot goes on, and stores at the last one.
  function pager(list) {
    const items = Array.from(list.children), next = document.querySelector("[data-next-step]");
    if (items.length < 2 || !next) return;
    list.classList.add("paged");
    const last = document.querySelectorAll("[data-last]"), count = document.querySelector("[data-count]");
    let at = 0;
    const turn = (to) => {
      at = to;
      items.forEach((item, i) => { item.hidden = i !== at; });
      count.textContent = (at + 1) + "/" + items.length;
      next.hidden = at === items.length - 1;
      last.forEach((one) => { one.hidden = at !== items.length - 1; });
      scrollTo(0, 0);
    };
    document.querySelector("[data-previous-step]").addEventListener("click", (event) => {
      if (at > 0) { event.preventDefault(); turn(at - 1); }
    });
    next.addEventListener("click", () => turn(at + 1));
    turn(0);
  }

  // Under the field that has the focus, until another one has it; the keys leave it there.
  function keypad(input) {
    const pad = document.createElement("div"), label = input.closest("label"), other = input.dataset.pad;
    pad.className = "keypad";
    pad.setAttribute("role", "group");
    pad.setAttribute("aria-label", label.textContent.trim());
    const put = (text) => { input.value = text ? input.value + text : input.value.slice(0, -1); input.dispatchEvent(new Event("input", { bubbles: true })); };
    const keys = [..."123", "erase", ..."456", other, ..."789", "-", ".", "0", "/", "space"];
    for (const key of other ? keys : keys.filter((one) => /^[0-9]$|erase/.test(one))) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = body.dataset[key] ?? key;
      button.addEventListener("click", () => put({ erase: "", space: " ", [other]: " " + other }[key] ?? key));
      pad.append(button);
    }
    pad.addEventListener("pointerdown", (event) => event.preventDefault());
    pad.hidden = document.querySelectorAll("[data-pad]").length > 1;
    input.addEventListener("focus", () => {
      for (const one of document.querySelectorAll(".keypad")) one.hidden = one !== pad;
      label.scrollIntoView({ block: "start" });
    });
    label.after(pad);
    input.inputMode = "none";
  }

  function dress() {
    document.querySelectorAll("[data-steps]").forEach(pager);
    document.querySelectorAll("[data-pad]").forEach(keypad);
    watch();
  }

  dress();
  show();
  send(false);
  awake();
})();

// The real boards: ticks are held for half a second and kept on this phone; joints are counted.
(() => {
  const HOLD = 500;
  const held = ".stopped-at, [data-hold]";
  const load = (key) => { try { return JSON.parse(localStorage.getItem(key)) || {}; } catch { return {}; } };
  const keep = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); } catch { /* no room: the ticks last as long as the page */ } };

  const list = document.querySelector("[data-ticks]"), counter = document.querySelector("[data-joints]");
  const boxes = list ? Array.from(list.querySelectorAll("input[type=checkbox]")) : [];
  const key = list ? "fitlog.ticks." + list.dataset.ticks : "", joints = counter ? "fitlog.joints." + counter.dataset.joints : "";

  // Ticks are of the stops that they were given for; those of a few others are kept beside.
  function save() {
    const { [list.dataset.sign]: old, ...others } = load(key);
    const rest = Object.entries(others).slice(-3);
    keep(key, { ...Object.fromEntries(rest), [list.dataset.sign]: boxes.filter((box) => box.checked).map((box) => box.id) });
  }

  // Which boards were named last, for whoever comes back.
  function named() {
    const asked = new URLSearchParams(location.search), at = "fitlog.named." + list.dataset.ticks;
    if (asked.has("boards")) return keep(at, { text: asked.get("boards") });
    const { text } = load(at);
    if (text) location.replace(location.pathname + "?boards=" + encodeURIComponent(text));
  }

  function count(more) {
    const least = Number(counter.dataset.least), look = Number(counter.dataset.look);
    const now = Math.max(least, Number(load(joints).count) || 0) + more;
    if (more) keep(joints, { count: now });
    counter.querySelector("output").textContent = now;
    const due = now >= look, link = document.querySelector("[data-check]");
    counter.querySelector("[data-due]").hidden = !due;
    if (!link) return;
    link.classList.toggle("go", due);
    link.search = now > least ? "?after=" + now : "";
  }

  let pressed = null, timer = 0;
  const letGo = () => { clearTimeout(timer); if (pressed) pressed.classList.remove("holding"); };
  document.addEventListener("pointerdown", (event) => {
    letGo();
    pressed = event.target.closest(held);
    if (!pressed || event.button > 0) return;
    const here = pressed;
    here.classList.add("holding");
    timer = setTimeout(() => {
      here.classList.remove("holding");
      if (here.dataset.hold === "joint") return count(1);
      const box = here.querySelector("input");
      box.checked = !box.checked;
      save();
    }, HOLD);
  });
  for (const name of ["pointerup", "pointercancel", "scroll"]) document.addEventListener(name, letGo, true);
  document.addEventListener("contextmenu", (event) => { if (event.target.closest(held)) event.preventDefault(); });
  // A click by keyboard or a screen reader has no press before it, and counts at once.
  document.addEventListener("click", (event) => {
    const here = event.target.closest(held);
    if (!here) return;
    if (pressed === here) return event.preventDefault();
    if (here.dataset.hold === "joint") count(1);
  });
  document.addEventListener("keydown", () => { pressed = null; });

  if (list) {
    named();
    const known = load(key)[list.dataset.sign] || [];
    for (const box of boxes) box.checked = known.includes(box.id);
    list.addEventListener("change", save);
    document.querySelectorAll("[data-clear-part], [data-hold-told]").forEach((one) => { one.hidden = !boxes.length; });
    document.querySelector("[data-clear]").addEventListener("click", (event) => {
      for (const box of boxes) box.checked = false;
      save();
      event.target.closest("details").open = false;
    });
  }
  if (counter) { counter.hidden = false; count(0); }

  // Of several questions in one form each is answered before the next one is shown.
  const open = () => document.querySelector(".questions > li:not([hidden])");
  function missing() {
    const bad = open() && Array.from(open().querySelectorAll("input, select, textarea")).find((one) => !one.checkValidity());
    if (bad) bad.reportValidity();
    return Boolean(bad);
  }
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-next-step]") && missing()) { event.stopPropagation(); event.preventDefault(); }
  }, true);
  document.addEventListener("keydown", (event) => {
    const next = document.querySelector("[data-next-step]:not([hidden])");
    if (event.key !== "Enter" || !next || !event.target.matches(".questions input")) return;
    event.preventDefault();
    next.click();
  });
})();
