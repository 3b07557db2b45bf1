// The page's own layer under the touch app: pointers, keys, words, storage, files, sleep. The app asks
// for nothing by itself: each event here asks for frames, and nothing is drawn while nothing happens.
"use strict";
(() => {
  const sheet = document.getElementById("sheet");
  const words = document.getElementById("words");
  const said = document.getElementById("said");
  const plain = document.getElementById("plain");
  let app = null;          // the module, once it runs
  let frames = 0, asked = 0, last = 0;
  let pending = [];        // records sent and not yet safe

  function tell(text, keys = []) {
    plain.textContent = text;
    for (const [label, deed] of keys) {
      const key = document.createElement("button");
      key.textContent = label;
      key.onclick = () => { plain.hidden = true; fit(); deed(); };
      plain.append(document.createElement("br"), key);
    }
    plain.hidden = text === "";
    fit();
  }
  // A message never lies over a key: the sheet ends above it.
  function fit() {
    sheet.style.height = plain.hidden ? "100%" : "calc(100% - " + plain.offsetHeight + "px)";
    need(3);
  }

  // ---- storage: one record an edit, in order, each transaction durable before it counts ----
  let db = null;
  function openStorage() {
    return new Promise((resolve) => {
      let request;
      try { request = indexedDB.open("levelrun", 1); } catch (e) { resolve(null); return; }
      request.onupgradeneeded = () => {
        request.result.createObjectStore("records", {autoIncrement: true});
        request.result.createObjectStore("settings");
      };
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => resolve(null);
      request.onblocked = () => resolve(null);
    });
  }
  function readAll() {
    return new Promise((resolve) => {
      const out = [];
      const cursor = db.transaction("records").objectStore("records").openCursor();
      cursor.onsuccess = () => {
        if (!cursor.result) { resolve(out); return; }
        out.push(cursor.result.value);
        cursor.result.continue();
      };
      cursor.onerror = () => resolve(out);
    });
  }
  function readSettings() {
    return new Promise((resolve) => {
      const get = db.transaction("settings").objectStore("settings").get("settings");
      get.onsuccess = () => resolve(get.result || "");
      get.onerror = () => resolve("");
    });
  }
  function writeTrouble(error) {
    app.ccall("web_write_trouble", null, ["string"], [error ? error.name : "storage refused"]);
    tell("This device cannot keep what you book: " + (error ? error.message : "storage refused") +
         " Copy the job out now.");
    need(2);
  }
  function store(kind, path, data) {
    pending.push(1);
    const done = () => { pending.pop(); app._web_written(1); need(2); };
    if (!db) { if (!storageTold) { storageTold = true; writeTrouble(null); } return; }
    try {
      const transaction = db.transaction("records", "readwrite", {durability: "strict"});
      transaction.objectStore("records").add({kind, path, data});
      transaction.oncomplete = done;
      transaction.onabort = transaction.onerror = () => writeTrouble(transaction.error);
    } catch (e) { writeTrouble(e); }
  }
  let storageTold = false;
  // Records grow; on starting they are written anew as one a file, in one transaction.
  function compact(records) {
    if (records.length < 200) return Promise.resolve();
    const files = new Map();
    const text = new TextDecoder(), bytes = new TextEncoder();
    const join = (a, b) => { const c = new Uint8Array(a.length + b.length); c.set(a); c.set(b, a.length); return c; };
    for (const r of records) {
      const data = r.data;
      if (r.kind === "put") files.set(r.path, data);
      else if (r.kind === "append") files.set(r.path, join(files.get(r.path) || new Uint8Array(), data));
      else if (r.kind === "cut") files.set(r.path, (files.get(r.path) || new Uint8Array()).slice(0, Number(text.decode(data))));
      else if (r.kind === "remove") files.delete(r.path);
      else if (r.kind === "rename") { files.set(text.decode(data), files.get(r.path) || bytes.encode("")); files.delete(r.path); }
    }
    return new Promise((resolve) => {
      const transaction = db.transaction("records", "readwrite", {durability: "strict"});
      const all = transaction.objectStore("records");
      all.clear();
      for (const [path, data] of files) all.add({kind: "put", path, data});
      transaction.oncomplete = transaction.onabort = () => resolve();
    });
  }

  // ---- frames ----
  function need(n) {
    frames = Math.max(frames, n);
    if (!asked && app && !document.hidden) asked = requestAnimationFrame(draw);
  }
  const inset = (side) => parseFloat(getComputedStyle(sheet).getPropertyValue("--inset-" + side)) || 0;
  function drawNow(now) {
    const ratio = window.devicePixelRatio || 1;
    const w = sheet.clientWidth, h = sheet.clientHeight;
    if (sheet.width !== Math.round(w * ratio)) sheet.width = Math.round(w * ratio);
    if (sheet.height !== Math.round(h * ratio)) sheet.height = Math.round(h * ratio);
    const seconds = last ? Math.min(0.1, (now - last) / 1000) : 0;
    last = now;
    const more = app._web_frame(w, h, ratio, seconds, inset("left"), inset("top"), inset("right"), inset("bottom"));
    window.levelrunFrames = (window.levelrunFrames || 0) + 1;
    const text = app.UTF8ToString(app._web_said());
    if (text !== said.textContent) said.textContent = text;
    return more;
  }
  function draw(now) {
    asked = 0;
    if (frames > 0) --frames;
    const more = drawNow(now);
    if (more || frames > 0) asked = requestAnimationFrame(draw);
    followWords();
    stayAwake();
  }

  // ---- words: a real input over the field, so that soft keyboards and composition work ----
  let wordsOpen = "";
  function followWords() {
    const id = app.UTF8ToString(app._web_words_id());
    if (id === "" && wordsOpen) { wordsOpen = ""; words.hidden = true; sheet.focus({preventScroll: true}); return; }
    if (id === "") return;
    if (id !== wordsOpen) {
      wordsOpen = id;
      words.value = app.UTF8ToString(app._web_words_text());
      words.hidden = false;
      place();
      words.focus({preventScroll: true});
    } else place();
  }
  function place() {
    words.style.left = app._web_words_box(0) + "px";
    words.style.top = app._web_words_box(1) + "px";
    words.style.width = app._web_words_box(2) + "px";
    words.style.height = app._web_words_box(3) + "px";
  }
  const closeWords = () => { if (wordsOpen) { app._web_words_done(); need(4); } };
  words.addEventListener("input", () => { app.ccall("web_words_typed", null, ["string"], [words.value]); need(2); });
  words.addEventListener("keydown", (e) => { e.stopPropagation(); if (e.key === "Enter" && !e.isComposing) words.blur(); });
  words.addEventListener("blur", closeWords);

  // ---- pointers ----
  const down = new Map();
  let pinch = null;
  const spread = () => { const [a, b] = [...down.values()]; return {d: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2}; };
  sheet.addEventListener("pointerdown", (e) => {
    e.preventDefault();
    sheet.focus({preventScroll: true});
    if (wordsOpen) words.blur();
    try { sheet.setPointerCapture(e.pointerId); } catch (x) { /* a pointer made by a test */ }
    down.set(e.pointerId, {x: e.clientX, y: e.clientY});
    if (down.size === 2) {
      // The first finger is let go of far away, or the key under it would fire.
      app._web_pointer(-10000, -10000, 1);
      app._web_button(0);
      pinch = spread();
    } else if (down.size === 1) {
      app._web_pointer(e.clientX, e.clientY, e.pointerType === "touch" ? 1 : 0);
      app._web_button(1);
    }
    need(3);
  });
  sheet.addEventListener("pointermove", (e) => {
    if (down.has(e.pointerId)) down.set(e.pointerId, {x: e.clientX, y: e.clientY});
    if (pinch && down.size === 2) {
      const now = spread();
      if (pinch.d > 0) app._web_pinch(now.d / pinch.d, now.x, now.y);
      pinch = now;
    } else if (!pinch && (down.size === 1 || e.pointerType === "mouse")) {
      app._web_pointer(e.clientX, e.clientY, e.pointerType === "touch" ? 1 : 0);
    } else return;
    need(2);
  });
  function up(e) {
    const was = down.size;
    down.delete(e.pointerId);
    if (pinch) { if (down.size === 0) pinch = null; need(2); return; }
    if (was !== 1) return;
    app._web_button(0);
    // Within the gesture: the tap is dealt with now, so that a file or a keyboard may be asked for.
    for (let i = 0; i < 4; ++i) drawNow(performance.now());
    followWords();
    if (e.pointerType !== "mouse") app._web_pointer_away();
    need(4);
  }
  sheet.addEventListener("pointerup", up);
  sheet.addEventListener("pointercancel", (e) => { app._web_pointer(-10000, -10000, 1); up(e); });
  sheet.addEventListener("wheel", (e) => {
    e.preventDefault();
    app._web_pointer(e.clientX, e.clientY, 0);
    if (e.ctrlKey) app._web_pinch(Math.exp(-e.deltaY / 200), e.clientX, e.clientY);
    else app._web_wheel(-e.deltaY / (e.deltaMode ? 3 : 100));
    need(3);
  }, {passive: false});
  sheet.addEventListener("contextmenu", (e) => e.preventDefault());

  // ---- hardware keys, and meters that type ----
  window.addEventListener("keydown", (e) => {
    if (!app || e.target === words || e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === "Enter" || e.key === "Backspace") {
      e.preventDefault();
      app._web_key(e.key === "Enter" ? 0 : 1, 1);
      app._web_key(e.key === "Enter" ? 0 : 1, 0);
    } else if (e.key.length === 1) {
      app.ccall("web_typed", null, ["string"], [e.key]);
    } else return;
    need(4);
  });
  window.addEventListener("paste", (e) => {
    if (e.target === words) return;
    app.ccall("web_typed", null, ["string"], [e.clipboardData.getData("text").trim().slice(0, 40)]);
    need(3);
  });

  // ---- the device ----
  const resize = () => { if (plain.hidden) need(3); else fit(); };
  window.addEventListener("resize", resize);
  window.addEventListener("orientationchange", resize);
  document.addEventListener("visibilitychange", () => {
    if (!app) return;
    if (document.hidden) app._web_leave();  // the last event one can rely on
    else { last = 0; need(3); }
  });
  history.replaceState(1, "");
  history.pushState(2, "");
  window.addEventListener("popstate", () => {
    if (app && app._web_back()) history.pushState(2, "");
    else history.back();
    need(3);
  });
  sheet.addEventListener("webglcontextlost", (e) => { e.preventDefault(); app._web_context_lost(); });
  sheet.addEventListener("webglcontextrestored", () => { app._web_context_back(); need(3); });
  let lock = null;
  async function stayAwake() {
    const wanted = app._web_measuring() && !document.hidden;
    if (wanted === (lock !== null) || !navigator.wakeLock) return;
    if (!wanted) { const l = lock; lock = null; if (l && l.release) l.release(); return; }
    lock = {};
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => { lock = null; });
    } catch (e) { /* the battery is low, say: the screen may sleep */ }
  }
  let sound = null;
  function tone(times) {
    try {
      sound = sound || new AudioContext();
      for (let i = 0; i < times; ++i) {
        const at = sound.currentTime + i * 0.11, o = sound.createOscillator(), g = sound.createGain();
        o.frequency.value = 880;
        g.gain.value = 0.2;
        o.connect(g).connect(sound.destination);
        o.start(at);
        o.stop(at + 0.06);
      }
    } catch (e) { /* no sound here */ }
    if (navigator.vibrate) navigator.vibrate(times === 1 ? 30 : [30, 60, 30]);
  }
  async function give(name, bytes) {
    const file = new File([bytes], name, {type: "application/json"});
    if (navigator.canShare && matchMedia("(pointer: coarse)").matches && navigator.canShare({files: [file]})) {
      try { await navigator.share({files: [file], title: name}); return; } catch (e) { if (e.name === "AbortError") return; }
    }
    const link = document.createElement("a");
    link.href = URL.createObjectURL(file);
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }
  function fileCame(name, bytes) {
    const at = app._malloc(bytes.length + 1);
    app.HEAPU8.set(bytes, at);
    app.ccall("web_file_came", null, ["string", "number", "number"], [name, at, bytes.length]);
    app._free(at);
    need(4);
  }
  function askForFile() {
    const input = document.createElement("input");
    input.type = "file";
    input.accept = ".json,application/json";
    input.onchange = async () => {
      const file = input.files[0];
      if (!file) return;
      if (file.size > 16 << 20) { tell(file.name + " is larger than a survey may be (16 MiB). Nothing was opened."); return; }
      fileCame(file.name, new Uint8Array(await file.arrayBuffer()));
    };
    input.click();
  }
  function askForPhoto() {  // JPEG and PNG only: tablets that store others then hand over a JPEG
    const input = document.createElement("input");
    input.type = "file";
    input.accept = "image/jpeg,image/png";
    input.onchange = async () => {
      const file = input.files[0];
      if (!file) return;
      if (file.size > 50 << 20) { tell(file.name + " is larger than 50 MB. No photo was added."); return; }
      fileCame(file.name, new Uint8Array(await file.arrayBuffer()));
    };
    input.click();
  }
  window.addEventListener("dragover", (e) => e.preventDefault());
  window.addEventListener("drop", async (e) => {
    e.preventDefault();
    const file = e.dataTransfer.files[0];
    if (file && file.size <= 16 << 20) fileCame(file.name, new Uint8Array(await file.arrayBuffer()));
  });
  function now() {
    const d = new Date(), two = (n) => String(n).padStart(2, "0"), off = -d.getTimezoneOffset();
    return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()) + "T" + two(d.getHours()) + ":" +
      two(d.getMinutes()) + ":" + two(d.getSeconds()) + (off < 0 ? "-" : "+") + two(Math.floor(Math.abs(off) / 60)) + ":" + two(Math.abs(off) % 60);
  }
  function keepSettings(text) {
    if (!db) return;
    try { db.transaction("settings", "readwrite").objectStore("settings").put(text, "settings"); } catch (e) { /* said by the records */ }
  }

  // ---- without a network ----
  async function worker() {
    if (!("serviceWorker" in navigator) || location.protocol === "file:") return;
    const registration = await navigator.serviceWorker.register("worker.js", {updateViaCache: "none"});
    const offer = (waiting) => {
      if (!navigator.serviceWorker.controller) return;
      const ask = () => {
        if (app._web_job_open()) { setTimeout(ask, 5000); return; }  // never while a job is open
        tell("A new version is here.", [["Take it up", () => { waiting.postMessage("take up"); }], ["Later", () => {}]]);
      };
      ask();
    };
    if (registration.waiting) offer(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const fresh = registration.installing;
      fresh.addEventListener("statechange", () => { if (fresh.state === "installed") offer(fresh); });
    });
    let taken = false;
    const had = !!navigator.serviceWorker.controller;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (had && !taken) { taken = true; location.reload(); }
    });
    await navigator.serviceWorker.ready;
    navigator.serviceWorker.addEventListener("message", (e) => { if (e.data.ready) window.levelrunReady = e.data.version; });
    registration.active.postMessage("ready?");
  }
  async function persistence() {
    if (!navigator.storage || !navigator.storage.persist || location.protocol === "file:") return;
    const kept = await navigator.storage.persist();
    const installed = matchMedia("(display-mode: standalone)").matches || navigator.standalone;
    window.levelrunKept = kept;
    if (!installed && !kept && !sessionStorage.getItem("told")) {
      sessionStorage.setItem("told", "1");
      tell("Some browsers clear a page's storage after a week without use. Put Levelrun on the home screen, and copy each job out before you leave the house.", [["I will", () => {}]]);
    }
  }

  async function start() {
    db = await openStorage();
    let locked = false;
    if (navigator.locks)
      await new Promise((go) => navigator.locks.request("levelrun", {ifAvailable: true}, (held) => {
        if (!held) { locked = true; go(); return; }
        go();
        return new Promise(() => {});  // held as long as the page lives
      }));
    // The one-file page has the program inside; otherwise it is fetched.
    const inside = self.levelrunProgram ? {wasmBinary: self.levelrunProgram} : {};
    app = await LevelrunModule({...inside, store, tone, give, askForFile, askForPhoto, now, keepSettings});
    window.levelrun = app;
    const records = db ? await readAll() : [];
    for (const r of records) {
      const at = app._malloc(r.data.length + 1);
      app.HEAPU8.set(r.data, at);
      app.ccall("web_recall", null, ["string", "string", "number", "number"], [r.kind, r.path, at, r.data.length]);
      app._free(at);
    }
    if (db && !locked) await compact(records);
    if (locked) app._web_locked();
    const settings = db ? await readSettings() : "";
    if (!app.ccall("web_start", "number", ["string"], [settings])) {
      tell("This browser has no WebGL 2, which the page is drawn with. Another browser on this device may have it.");
      return;
    }
    if (!db) tell("This browser keeps nothing (a private window, say). Whatever you book is lost when the page closes: copy jobs out.");
    else if (locked) tell("Levelrun is open in another tab. Here you can look on; book there.");
    window.levelrunPending = () => pending.length;
    need(3);
    worker().catch(() => {});
    persistence().catch(() => {});
  }
  start().catch((e) => tell("Levelrun did not start: " + e.message));
})();
