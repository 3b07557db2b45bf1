// The page's own layer under the touch app: pointers, keys, words, storage, files, sleep. The app asks
// for nothing by itself: each event here asks for frames, and nothing is drawn while nothing happens.
"use strict";
(() => {
  const sheet = document.getElementById("sheet");
  const words = document.getElementById("words");
  const said = document.getElementById("said");
  const plain = document.getElementById("plain");
  const bar = document.getElementById("bar");
  let app = null;          // the module, once it runs
  let drawable = true;     // false while the WebGL context is lost
  let onlyLook = false;    // another tab, or a newer version, has the storage
  let frames = 0, asked = 0, last = 0;

  function keysInto(box, keys) {
    for (const [label, deed] of keys) {
      const key = document.createElement("button");
      key.textContent = label;
      key.onclick = deed;
      box.append(key);
    }
  }
  // A sentence over the bottom of the page, and what may be done about it; "" takes it away.
  function tell(text, keys = []) {
    plain.textContent = text;
    if (keys.length) plain.append(document.createElement("br"));
    keysInto(plain, keys.map(([label, deed]) => [label, () => { tell(""); deed(); }]));
    plain.hidden = text === "";
    fit();
  }
  // A message never lies over a key: the sheet ends above it.
  function fit() {
    const high = (plain.hidden ? 0 : plain.offsetHeight) + (bar.hidden ? 0 : bar.offsetHeight);
    bar.style.bottom = (plain.hidden ? 0 : plain.offsetHeight) + "px";
    sheet.style.height = high === 0 ? "100%" : "calc(100% - " + high + "px)";
    need(3);
  }

  // ---- storage: one record an edit, in order, each transaction durable before it counts ----
  let db = null;
  function openStorage(version) {
    return new Promise((resolve) => {
      let request;
      try { request = version ? indexedDB.open("levelrun", version) : indexedDB.open("levelrun"); } catch (e) { resolve(null); return; }
      request.onupgradeneeded = () => {
        request.result.createObjectStore("records", {autoIncrement: true});
        request.result.createObjectStore("settings");
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => {
          request.result.close();
          lookOnly("A newer version of Levelrun was opened in another tab. Reload this page to go on.");
        };
        resolve(request.result);
      };
      request.onerror = () => {
        // Kept by a newer version: its records are read, and nothing is written among them.
        if (version && request.error && request.error.name === "VersionError") {
          onlyLook = true;
          openStorage().then(resolve);
        } else resolve(null);
      };
      request.onblocked = () => resolve(null);
    });
  }
  function lookOnly(why) {
    onlyLook = true;
    if (app) app.ccall("web_only_look", null, ["string"], [why]);
    tell(why);
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
  // What was sent waits here until its transaction is complete: after a failure it is all tried again,
  // in its order.
  let waiting = [], writing = false, failed = false, changed = false;
  function store(kind, path, data) {
    waiting.push({kind, path, data});
    changed = true;
    write();
  }
  function write() {
    if (writing || waiting.length === 0 || !db || onlyLook) return;
    const these = waiting.length;
    const refused = (error) => {
      writing = false;
      failed = true;
      const why = error && error.name === "QuotaExceededError" ? "the storage is full" : "the browser does not write (" + (error ? error.name : "no reason given") + ")";
      app.ccall("web_write_trouble", null, ["string", "number"], [why, 1]);
      tell("What you booked last is not safe yet: " + why + ". It stays here while the page is open. Make room on this device and try again, or copy the jobs out.",
           [["Try again", write], ["Copy all jobs out", copyAllOut]]);
    };
    writing = true;
    try {
      const transaction = db.transaction("records", "readwrite", {durability: "strict"});
      const all = transaction.objectStore("records");
      for (const record of waiting) all.add(record);
      transaction.oncomplete = () => {
        writing = false;
        waiting.splice(0, these);
        app._web_written(these);
        if (failed) {
          failed = false;
          app.ccall("web_write_trouble", null, ["string", "number"], ["", 0]);
          tell("");
        }
        need(2);
        write();
      };
      transaction.onabort = () => refused(transaction.error);
    } catch (e) { refused(e); }
  }
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
    if (!asked && app && started && drawable && !document.hidden) asked = requestAnimationFrame(draw);
  }
  const inset = (side) => parseFloat(getComputedStyle(sheet).getPropertyValue("--inset-" + side)) || 0;
  function drawNow(now) {
    const ratio = window.devicePixelRatio || 1;
    const w = sheet.clientWidth, h = sheet.clientHeight;
    if (sheet.width !== Math.round(w * ratio)) sheet.width = Math.round(w * ratio);
    if (sheet.height !== Math.round(h * ratio)) sheet.height = Math.round(h * ratio);
    const seconds = last ? Math.min(0.1, (now - last) / 1000) : 0;
    last = now;
    const more = app._web_frame(w, h, ratio, seconds, inset("left"), inset("top"), inset("right"),
      plain.hidden && bar.hidden ? inset("bottom") : 0);
    window.levelrunFrames = (window.levelrunFrames || 0) + 1;
    const text = app.UTF8ToString(app._web_said());
    if (text !== said.textContent) said.textContent = text;
    keepHalfTyped();
    return more;
  }
  function draw(now) {
    asked = 0;
    if (!drawable) return;
    if (frames > 0) --frames;
    const more = drawNow(now);
    showBar();
    if (more || frames > 0) asked = requestAnimationFrame(draw);
    followWords();
    stayAwake();
  }

  // ---- what is half typed, for when the system throws the page away ----
  let half = "";
  function keepHalfTyped() {
    const now = app.UTF8ToString(app._web_half_typed());
    if (now === half || onlyLook) return;
    half = now;
    try { localStorage.setItem("levelrun-half-typed", half); } catch (e) { /* then it is typed again */ }
  }
  function backToHalfTyped() {
    try {
      const kept = localStorage.getItem("levelrun-half-typed") || "";
      // Gone until frames were drawn: a page that could not be shown is not gone back to twice.
      localStorage.removeItem("levelrun-half-typed");
      app.ccall("web_back_to", null, ["string"], [kept]);
    } catch (e) { /* no such storage here */ }
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
  const spread = () => { const [a, b = a] = [...down.values()]; return {d: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2}; };
  // The finger is off, and the key under it does not fire: what is pinched is not tapped.
  function letGo() {
    const {x, y} = spread();
    for (let i = 0; i < 2 && drawable; ++i) drawNow(performance.now());  // so that the press is known
    app._web_pinch(1, x, y);
    app._web_button(0);
  }
  sheet.addEventListener("pointerdown", (e) => {
    e.preventDefault();
    sheet.focus({preventScroll: true});
    if (wordsOpen) words.blur();
    try { sheet.setPointerCapture(e.pointerId); } catch (x) { /* a pointer made by a test */ }
    down.set(e.pointerId, {x: e.clientX, y: e.clientY});
    if (down.size === 2) {
      letGo();
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
    for (let i = 0; i < 4 && drawable; ++i) drawNow(performance.now());
    followWords();
    if (e.pointerType !== "mouse") app._web_pointer_away();
    need(4);
  }
  sheet.addEventListener("pointerup", up);
  sheet.addEventListener("pointercancel", (e) => { if (down.size === 1) letGo(); up(e); });
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
    if (document.hidden) {  // the last event one can rely on: words being typed are taken as they are
      if (wordsOpen) {
        app._web_words_done();
        for (let i = 0; i < 3 && drawable; ++i) drawNow(performance.now());
        followWords();
      }
      app._web_leave();
    } else { last = 0; write(); need(3); }
  });
  history.replaceState(1, "");
  history.pushState(2, "");
  window.addEventListener("popstate", () => {
    if (app && app._web_back()) history.pushState(2, "");
    else history.back();
    need(3);
  });
  sheet.addEventListener("webglcontextlost", (e) => { e.preventDefault(); drawable = false; app._web_context_lost(); });
  sheet.addEventListener("webglcontextrestored", () => { app._web_context_back(); drawable = true; need(3); });
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
  const kinds = {pdf: "application/pdf", zip: "application/zip", json: "application/json"};
  async function give(name, bytes) {
    const file = new File([bytes], name, {type: kinds[name.split(".").pop()] || "application/octet-stream"});
    changed = false;
    if (navigator.canShare && matchMedia("(pointer: coarse)").matches && navigator.canShare({files: [file]})) {
      try { await navigator.share({files: [file], title: name}); return; } catch (e) { if (e.name === "AbortError") return; }
    }
    const link = document.createElement("a");
    link.href = URL.createObjectURL(file);
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }
  const copyAllOut = () => app.ccall("web_give_all", null, ["string"], ["Levelrun jobs " + now().slice(0, 10) + ".zip"]);

  // Surveys, packs and archives as they are; the limits are the app's own.
  const mostBytes = {json: 16, pdf: 64, zip: 512};  // MiB
  async function fileChosen(file) {
    const most = mostBytes[file.name.split(".").pop().toLowerCase()] || 16;
    if (file.size > most << 20) { tell(file.name + " is larger than such a file may be (" + most + " MiB). Nothing was opened.", [["All right", () => {}]]); return; }
    fileCame(file.name, new Uint8Array(await file.arrayBuffer()));
  }
  // The browser turns a photo upright and makes it smaller, which takes less memory than we would need;
  // nothing but pixels is left of it. What it cannot read is judged by the app.
  const photoEdge = 2048, photoQuality = 0.92, mostPhoto = 50;  // px, of JPEG, MiB
  async function photoChosen(file) {
    if (file.size > mostPhoto << 20) { tell(file.name + " is larger than " + mostPhoto + " MB. No photo was added.", [["All right", () => {}]]); return; }
    let bytes = null;
    try {
      const picture = await createImageBitmap(file, {imageOrientation: "from-image"});
      const scale = Math.min(1, photoEdge / Math.max(picture.width, picture.height));
      const canvas = document.createElement("canvas");
      canvas.width = Math.max(1, Math.round(picture.width * scale));
      canvas.height = Math.max(1, Math.round(picture.height * scale));
      const pen = canvas.getContext("2d");
      pen.imageSmoothingQuality = "high";
      pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
      picture.close();
      const blob = await new Promise((go) => canvas.toBlob(go, "image/jpeg", photoQuality));
      bytes = new Uint8Array(await blob.arrayBuffer());
    } catch (e) { bytes = new Uint8Array(await file.arrayBuffer()); }
    fileCame(file.name, bytes);
  }
  function fileCame(name, bytes) {
    const at = app._malloc(bytes.length + 1);
    if (!at) { tell(name + " is too large for the memory of this device. Nothing was opened.", [["All right", () => {}]]); return; }
    app.HEAPU8.set(bytes, at);
    app.ccall("web_file_came", null, ["string", "number", "number"], [name, at, bytes.length]);
    app._free(at);
    need(4);
  }
  function ask(accept, deed) {
    const input = document.createElement("input");
    input.type = "file";
    input.accept = accept;
    input.onchange = () => { if (input.files[0]) deed(input.files[0]); };
    input.click();
  }
  const askForFile = () => ask(".json,.pdf,.zip,application/json,application/pdf,application/zip", fileChosen);
  // JPEG and PNG only: tablets that store others then hand over a JPEG.
  const askForPhoto = () => ask("image/jpeg,image/png", photoChosen);
  window.addEventListener("dragover", (e) => e.preventDefault());
  window.addEventListener("drop", (e) => {
    e.preventDefault();
    const file = e.dataTransfer.files[0];
    if (!file || !app) return;
    if (file.type.startsWith("image/")) photoChosen(file);
    else fileChosen(file);
  });
  function now() {
    const d = new Date(), two = (n) => String(n).padStart(2, "0"), off = -d.getTimezoneOffset();
    return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()) + "T" + two(d.getHours()) + ":" +
      two(d.getMinutes()) + ":" + two(d.getSeconds()) + (off < 0 ? "-" : "+") + two(Math.floor(Math.abs(off) / 60)) + ":" + two(Math.abs(off) % 60);
  }
  function keepSettings(text) {
    if (!db || onlyLook) return;
    try { db.transaction("settings", "readwrite").objectStore("settings").put(text, "settings"); } catch (e) { /* said by the records */ }
  }

  // ---- without a network ----
  async function worker() {
    if (!("serviceWorker" in navigator) || location.protocol === "file:") return;
    // With no network nothing can be registered anew; what is there serves on.
    const registration = await navigator.serviceWorker.register("worker.js", {updateViaCache: "none"})
      .catch(() => navigator.serviceWorker.getRegistration());
    if (!registration) return;
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
      if (!had || taken) return;
      taken = true;
      // Another tab took it up: this one follows, but never while a job is open.
      const follow = () => {
        if (app._web_job_open()) setTimeout(follow, 5000);
        else location.reload();
      };
      follow();
    });
    await navigator.serviceWorker.ready;
    navigator.serviceWorker.addEventListener("message", (e) => {
      if (!e.data.ready) return;
      window.levelrunReady = e.data.version;
      need(1);
    });
    registration.active.postMessage("ready?");
  }
  // ---- on the index of jobs: how safe this place is, as far as it is known ----
  const installed = () => matchMedia("(display-mode: standalone)").matches || navigator.standalone === true;
  let kept = null, free = null, installer = null, onBar = "", wasOpen = "";
  window.addEventListener("beforeinstallprompt", (e) => { e.preventDefault(); installer = e; need(1); });
  window.addEventListener("appinstalled", () => { installer = null; need(1); });
  async function howSafe() {
    if (!navigator.storage || !navigator.storage.persist || location.protocol === "file:") return;
    kept = await navigator.storage.persisted() || await navigator.storage.persist();
    const estimate = await navigator.storage.estimate();
    free = estimate.quota - estimate.usage;
    need(1);
  }
  const amount = (bytes) => bytes >= 1e9 ? (bytes / 1e9).toFixed(1) + " GB" : Math.max(0, Math.floor(bytes / 1e6)) + " MB";
  const little = 50e6;  // bytes: a few dozen photos
  // What holds as long as the page is open, and what is found out meanwhile. The second has its room from
  // the beginning: nothing moves under a finger.
  function barTexts() {
    const file = location.protocol === "file:";
    const now = [];
    if (window.levelrunReady) now.push("Ready without a network.");
    if (free !== null) now.push((free < little ? "ONLY " : "") + amount(free) + " free.");
    if (kept === false) now.push("The browser gives no promise to keep it.");
    return [file ? "This page is one file and needs no network. What is kept here belongs to this browser."
      : installed() ? "" : "Not on the home screen: the browser may clear what is kept here after some days without use.",
      file ? "" : now.join(" ")];
  }
  function showBar() {
    const open = app._web_job_open() ? app.UTF8ToString(app._web_path()) : "";
    if (open !== wasOpen) {
      const left = wasOpen;
      wasOpen = open;
      if (open) changed = false;
      else leftJob(left);
    }
    const show = app._web_on_index() && db && !onlyLook;
    const texts = barTexts(), state = show + texts.join("|") + !!installer;
    if (state === onBar) return;
    onBar = state;
    bar.textContent = "";
    for (const [kind, text] of [["stands", texts[0]], ["now", texts[1]]]) {
      const line = document.createElement("div");
      line.className = kind;
      line.textContent = text;
      bar.append(line);
    }
    if (!installed()) keysInto(bar, [["Copy all jobs out", copyAllOut],
      ...(installer ? [["To the home screen", () => { installer.prompt(); installer = null; need(1); }]] : [])]);
    bar.hidden = !show;
    fit();
  }
  // At each leave-taking the job is offered as a file, where the browser may forget it.
  function leftJob(path) {
    if (changed && !installed() && !onlyLook && !failed)
      tell(path.split("/").pop().replace(".levelrun.json", "") + " is kept in this browser only.",
           [["Copy it out", () => app.ccall("web_give_job", null, ["string"], [path])], ["Later", () => {}]]);
  }

  let started = false;
  async function start() {
    db = await openStorage(1);
    let otherTab = false;
    if (navigator.locks)
      await new Promise((go) => navigator.locks.request("levelrun", {ifAvailable: true}, (held) => {
        otherTab = !held;
        go();
        return held ? new Promise(() => {}) : undefined;  // held as long as the page lives
      }));
    const newer = onlyLook;
    if (otherTab) onlyLook = true;
    // The one-file page has the program inside; otherwise it is fetched.
    const inside = self.levelrunProgram ? {wasmBinary: self.levelrunProgram} : {};
    const onAbort = () => {
      drawable = false;
      tell("Levelrun had to stop: the memory of this device may be full. What was booked is kept.", [["Open it again", () => location.reload()]]);
    };
    app = await LevelrunModule({...inside, store, tone, give, askForFile, askForPhoto, now, keepSettings, onAbort});
    window.levelrun = app;
    const records = db ? await readAll() : [];
    for (const r of records) {
      const at = app._malloc(r.data.length + 1);
      app.HEAPU8.set(r.data, at);
      app.ccall("web_recall", null, ["string", "string", "number", "number"], [r.kind, r.path, at, r.data.length]);
      app._free(at);
    }
    if (db && !onlyLook) await compact(records);
    const settings = db ? await readSettings() : "";
    if (!app.ccall("web_start", "number", ["string"], [settings])) {
      tell("This browser has no WebGL 2, which the page is drawn with. Another browser on this device may have it.");
      return;
    }
    if (newer) lookOnly("A newer version of Levelrun has kept jobs here. With this older one you can look on and copy out.");
    else if (otherTab) {
      lookOnly("Levelrun is open in another tab. Here you can look on; book there.");
      navigator.locks.request("levelrun", () => {
        tell("The other tab was closed.", [["Go on here", () => location.reload()]]);
        return new Promise(() => {});
      });
    } else if (!db) {
      app.ccall("web_write_trouble", null, ["string", "number"], ["nothing is kept here", 0]);
      tell("This browser keeps nothing (a private window, say). Whatever you book is lost when the page closes: copy jobs out.", [["I know", () => {}]]);
    } else backToHalfTyped();
    window.levelrunPending = () => waiting.length;
    window.levelrunBusy = () => asked !== 0;
    started = true;
    need(3);
    worker().catch(() => {});
    howSafe().catch(() => {});
  }
  start().catch((e) => tell("Levelrun did not start: " + e.message));
})();
