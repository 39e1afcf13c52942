"use strict";
// What only a browser can do: answers kept on the phone until the log has them, one step at a time,
// a keypad, the screen kept awake. Without it the page works all the same.
(() => {
  const body = document.body, say = body.dataset;
  const fresh = () => Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, "0")).join("");

  // --- what is kept on this phone --------------------------------------------------------------
  // Each answer is a row of its own, so that no tab writes over another's, and counts as kept once it is on the disk: what stands
  // in localStorage gets there seconds later, and a dead battery takes it along. n: its place in the order; raw: its number.
  const opened = new Promise((done, fail) => {
    const asked = indexedDB.open("fitlog", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("out", { keyPath: "n", autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  opened.catch(() => { /* no room at all: each answer goes straight to the server */ });

  // All rows in their order, after `how` did with them and their store what it does, in one turn before or after any other tab's.
  function rows(mode, how) {
    return opened.then((db) => new Promise((done, fail) => {
      const one = db.transaction("out", mode, { durability: "strict" }), store = one.objectStore("out"), asked = store.getAll();
      asked.onsuccess = () => how && how(asked.result, store);
      one.oncomplete = () => done(asked.result);
      one.onabort = () => fail(one.error);
    }));
  }
  const read = () => rows("readonly").catch(() => []);
  const change = (raw, how) => rows("readwrite", (list, store) => {
    const found = list.find((one) => one.raw === raw);
    if (found) how(found, store, list);
  }).catch(() => { /* it is as it was, and is said or asked about again */ });
  const refuse = (raw) => change(raw, (one, store) => store.put({ ...one, refused: true }));
  const stored = (raw) => change(raw, (one, store) => store.delete(one.n));

  // An answer that had seen one which is left out, or said anew, has seen what stands for that one.
  function follow(list, store, raw, seen) {
    for (const one of list) {
      const fields = new URLSearchParams(one.body);
      if (fields.get("seen") !== "k" + raw) continue;
      fields.set("seen", seen);
      store.put({ ...one, body: fields.toString() });
    }
  }
  const drop = (raw) => change(raw, (one, store, list) => {
    store.delete(one.n);
    follow(list, store, raw, new URLSearchParams(one.body).get("seen"));
  });
  const keep = (one, instead) => rows("readwrite", (list, store) => {
    const old = list.find((kept) => kept.raw === instead);
    store.put(old ? { ...one, n: old.n } : one);
    if (old) follow(list, store, instead, "k" + one.raw);
  });

  // --- answers -------------------------------------------------------------------------------
  const strip = document.getElementById("kept"), strips = document.getElementById("strips");
  let sending = false, wait = 1000, timer = 0, why = null;
  let leaving = ""; // the number of the answer that this screen waits for, to go on
  let mine = ""; // the number of the last one that was given on it
  let passed = ""; // the one after which nothing was measured
  let delivered = ""; // where an answer of before leads that the log has now

  // What is said already stays, so that a touch on it finds it and nobody hears it twice.
  function tell(...parts) {
    const now = document.createElement("p");
    now.append(...parts);
    if (strip.innerHTML === now.innerHTML) return;
    still(() => {
      strip.replaceChildren(...now.childNodes);
      strip.hidden = !strip.textContent;
    });
  }

  function look() {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = say.look;
    button.addEventListener("click", () => send(true));
    return button;
  }

  function way(to) {
    const link = document.createElement("a");
    link.href = to;
    link.textContent = say.look;
    return link;
  }

  async function show() {
    const list = await read();
    band(list);
    if (!list.length) return delivered ? tell(say.stored, " ", way(delivered)) : tell("");
    const more = why ? why.map((one) => one.cloneNode(true)) : [];
    if (list.some((one) => one.refused)) return tell(say.refused, " ", look(), ...more);
    tell(say.kept + (list.length > 1 ? " (" + list.length + ")" : ""), ...more);
  }

  // Why an answer waits, as the server's sentence, and where to go about it.
  function reason(text) {
    const page = new DOMParser().parseFromString(text, "text/html"), sentence = document.createElement("span");
    sentence.className = "why";
    sentence.append(page.querySelector("[data-code]")?.textContent ?? "");
    return [sentence, ...page.querySelectorAll("a[data-way]")].filter((one) => one.pathname !== location.pathname);
  }

  // A refused answer waits for its writer, and what was said of the same set-up after it with it; starts are each of their own.
  const bars = (refused, one) => refused.to === one.to && one.to !== "/start";
  const goes = (list) => list.find((one, n) => !one.refused && !list.slice(0, n).some((before) => before.refused && bars(before, one)));

  async function send(again) {
    const list = await read();
    if (leaving && !sending && !list.some((one) => one.raw === leaving)) return elsewhere();
    const one = again ? list.find((kept) => kept.refused) : goes(list);
    if (sending || !one) return show();
    sending = true;
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
    if (told === "logged") {
      await stored(one.raw);
      wait = 1000;
      const next = reply.headers.get("Fitlog-Next");
      if (leaving === one.raw) return passed === one.raw ? elsewhere() : location.replace(next);
      delivered = next;
      await saw(delivered);
      sending = false;
      return send(false);
    }
    sending = false;
    if (told === "not-logged") {
      await refuse(one.raw);
      const held = (await read()).find((kept) => kept.raw === leaving);
      if (again || (held && (held.raw === one.raw || bars(one, held)))) return replace(text, one.raw);
      return send(false);
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
    strips.querySelector("#moved").hidden = true;
    body.replaceChildren(strips, ...Array.from(page.body.children).filter((one) => one.id !== "strips"));
    const back = document.querySelector("[data-code] + p a");
    if (back && !document.querySelector("[data-drop], [data-instead]")) back.dataset.drop = raw;
    leaving = mine = "";
    dress();
    show();
    scrollTo(0, 0);
    head();
  }

  // Another tab has brought it in, or its writer left it out there: the set-up says where it stands, the tiles what is started.
  function elsewhere() {
    const { setup } = body.dataset;
    location.replace(setup ? "/s/" + setup : "/");
  }

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.matches("[data-deed]")) return;
    event.preventDefault();
    if (form.dataset.sent) return;
    form.dataset.sent = "1";
    const fields = new URLSearchParams(new FormData(form)), raw = fresh(), { instead } = form.dataset;
    fields.set("key", raw);
    if (say.by) fields.set("by", say.by);
    if (mine && !instead) fields.set("seen", "k" + mine);
    for (const button of document.querySelectorAll("button")) button.disabled = button.form === form;
    try {
      await Promise.race([
        keep({ raw, to: form.getAttribute("action"), body: fields.toString() }, instead),
        new Promise((_, late) => { setTimeout(late, 3000); }),
      ]);
    } catch { // no room here, or none in time: straight to the server, under the same number
      for (const [name, value] of fields) for (const field of form.querySelectorAll("[type=hidden]")) if (field.name === name) field.value = value;
      return form.submit();
    }
    leaving = mine = raw;
    await show();
    await send(false);
    if (leaving === raw && (await read()).some((one) => one.raw === raw)) goOn(form);
  });

  // What is begun on this screen meanwhile is not taken from under the hand when the answer has arrived.
  document.addEventListener("input", (event) => { if (event.target.form && !event.target.form.dataset.sent) leaving = ""; });

  // A link that leaves an answer out is followed once it is out.
  document.addEventListener("click", async (event) => {
    const link = event.target.closest("[data-drop]");
    if (!link) return;
    event.preventDefault();
    await drop(link.dataset.drop);
    location.assign(link.href);
  });

  // Not delivered: the number of the word, if it has one, and the next question are on this page already, and are asked; where there is
  // none it goes on with the network.
  function goOn(form) {
    const sized = form.querySelector("input:checked[data-sized]");
    pass(form.closest("[data-question]") || form, sized ? "[data-question]" : "[data-question]:not([data-number])");
  }

  function pass(here, wanted) {
    let next = here.nextElementSibling;
    while (next && next.matches("[data-question]") && !next.matches(wanted)) next = next.nextElementSibling;
    here.hidden = true;
    if (next && next.matches("[data-question]")) {
      leaving = "";
      next.hidden = false;
      scrollTo(0, 0);
      return head();
    }
    const said = document.createElement("p");
    said.className = "asks";
    said.textContent = say.waiting;
    said.tabIndex = -1;
    here.insertAdjacentElement("afterend", said); // a form with a field "after" has no such method
    said.focus();
  }

  document.addEventListener("click", (event) => {
    const here = event.target.closest("[data-pass]");
    if (!here) return;
    leaving = passed = mine;
    pass(here.closest("[data-question]"), "[data-question]:not([data-number])");
    if (leaving) send(false);
  });

  addEventListener("online", () => { wait = 1000; send(false); });
  // A page that the browser had put by is asked for anew; without a network it is still there.
  addEventListener("pageshow", (event) => {
    if (event.persisted) fetch(location.href).then(() => location.reload(), watch);
  });
  document.addEventListener("visibilitychange", () => {
    watch();
    if (!document.hidden) { wait = 1000; send(false); awake(); }
  });

  // --- what others say ------------------------------------------------------------------------
  // Only a screen that is seen listens: a browser has six connections to a server, for all its tabs. Where nothing is heard, not
  // even that the server is there (every 15 s), after a sleep or where it had no more room, it is asked again.
  const SILENT = 40000;
  let stream = null, silent = 0, newest = "";
  function watch() {
    clearTimeout(silent);
    if (stream) stream.close();
    stream = null;
    const { setup, seen } = body.dataset;
    if (!setup || !window.EventSource || document.hidden) return;
    const heard = () => { clearTimeout(silent); silent = setTimeout(watch, SILENT); };
    heard();
    stream = new EventSource("/s/" + setup + "/events?seen=" + seen);
    stream.onopen = heard;
    stream.addEventListener("beat", heard);
    stream.onmessage = (event) => { heard(); newest = "e" + event.data; show(); };
  }

  // The log has more than this screen shows. While an answer from here is under way it may be that one.
  function band(list) {
    const moved = document.getElementById("moved"), { setup, seen } = body.dataset;
    if (!newest || newest === seen || sending || !moved.hidden || list.some((one) => one.to === "/s/" + setup + "/answer")) return;
    still(() => {
      moved.replaceChildren(body.dataset.moved + " ", way(location.href));
      moved.hidden = false;
    });
  }

  // The screen that follows an answer says which entry that one is.
  async function saw(next) {
    const text = await fetch(next).then((reply) => reply.text()).catch(() => "");
    const [, setup, entry] = /data-setup="(\d+)" data-seen="(e\d+)"/.exec(text) || [];
    if (entry && setup === body.dataset.setup) body.dataset.seen = entry;
  }
  addEventListener("pagehide", () => { clearTimeout(silent); if (stream) stream.close(); });

  // --- the hand ---------------------------------------------------------------------------------
  const SOON = 500; // ms; who touches again so soon means what was there before

  // A strip that comes or goes above moves nothing under the finger.
  function still(how) {
    const main = document.querySelector("main"), before = main.getBoundingClientRect().top;
    how();
    scrollBy(0, main.getBoundingClientRect().top - before);
  }

  // Whoever has no finger on the glass goes on from the heading.
  function head() {
    const one = Array.from(document.querySelectorAll("h1")).find((h1) => h1.offsetParent);
    if (!one) return;
    one.tabIndex = -1;
    one.focus({ preventScroll: true });
  }

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
    };
    let turned = performance.now();
    const step = (event, to) => {
      if (event.detail && event.timeStamp - turned < SOON) return; // the second tap of two leaves out no step
      turn(to);
      turned = event.timeStamp;
      scrollTo(0, 0);
      head();
    };
    document.querySelector("[data-previous-step]").addEventListener("click", (event) => {
      if (at > 0) { event.preventDefault(); step(event, at - 1); }
    });
    next.addEventListener("click", (event) => step(event, at + 1));
    turn(0);
  }

  // Under the field that has the focus, until another one has it; the keys leave it there. What is
  // asked by itself, in a step or behind a bar, need not be touched first.
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
    pad.hidden = input.closest("details, li, form").querySelectorAll("[data-pad]").length > 1;
    input.addEventListener("focus", () => {
      for (const one of document.querySelectorAll(".keypad")) one.hidden = one !== pad;
      label.scrollIntoView({ block: "start" });
    });
    label.after(pad);
    input.inputMode = "none";
  }

  // One Store, at the foot: for the words, or for what is open instead of them.
  function either(question) {
    const store = question.querySelector(".foot button.go"), words = store.getAttribute("form"), stores = store.textContent;
    const instead = [...question.querySelectorAll("details"), ...document.querySelectorAll("main > details")].filter((one) => one.querySelector("form"));
    const turn = () => {
      const open = instead.find((one) => one.open), form = open ? open.querySelector("form") : null;
      store.setAttribute("form", form ? form.id : words);
      store.textContent = form ? form.querySelector("button.go").textContent : stores;
    };
    for (const one of instead) {
      one.querySelector("button.go").hidden = true;
      one.addEventListener("toggle", () => {
        if (one.open) {
          for (const other of instead) if (other !== one) other.open = false;
          for (const word of question.querySelectorAll("input:checked")) word.checked = false;
        }
        turn();
      });
    }
    question.addEventListener("change", (event) => {
      if (event.target.form && event.target.form.id === words) for (const one of instead) one.open = false;
    });
    turn();
  }

  function dress() {
    document.querySelectorAll("[data-question]:not([data-number])").forEach((one) => one.querySelector(".foot") && either(one));
    document.querySelectorAll("[data-steps]").forEach(pager);
    document.querySelectorAll("[data-pad]").forEach(keypad);
    const drops = document.querySelectorAll("[data-drop]");
    for (const one of drops) one.classList.add("not-yet");
    setTimeout(() => { for (const one of drops) one.classList.remove("not-yet"); }, SOON);
    watch();
  }

  dress();
  send(false);
  if (document.activeElement === body) head();
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
  function save(changed) {
    const { [list.dataset.sign]: old, ...others } = load(key), ticked = new Set(old);
    for (const box of changed) if (box.checked) ticked.add(box.id); else ticked.delete(box.id);
    keep(key, { ...Object.fromEntries(Object.entries(others).slice(-3)), [list.dataset.sign]: [...ticked] });
  }

  function ticks() {
    const known = load(key)[list.dataset.sign] || [];
    for (const box of boxes) box.checked = known.includes(box.id);
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
      save([box]);
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
    ticks();
    list.addEventListener("change", (event) => save([event.target]));
    addEventListener("storage", (event) => { if (event.key === key) ticks(); }); // ticked in another tab
    document.querySelectorAll("[data-clear-part], [data-hold-told]").forEach((one) => { one.hidden = !boxes.length; });
    document.querySelector("[data-clear]").addEventListener("click", (event) => {
      for (const box of boxes) box.checked = false;
      save(boxes);
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
    if (event.key !== "Enter" || !next || !event.target.matches("[data-steps] input")) return;
    event.preventDefault();
    next.click();
  });
})();
