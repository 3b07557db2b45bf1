// Where a device gives less than is needed: no WebGL 2, no storage, a context lost, memory over a long day; and
// what is said of how safe the place is.
import {bar, browser, check, closed, downloaded, edits, host, key, must, newJob, open, phone, picture, plain, said, seek, settle, tablet, typed, until, written} from "./drive.mjs";

{
  const {context, page} = await browser("flat", phone, {args: ["--disable-3d-apis"]});
  await page.goto(host.origin);
  await until(page, () => !document.getElementById("plain").hidden, null, 20000).catch(() => {});
  check("no WebGL 2: a plain sentence", /no WebGL 2/.test(await plain(page)), await plain(page));
  await closed(context);
}

{
  const {context, page} = await browser("private", phone, {before: () => {
    Object.defineProperty(window, "indexedDB", {get() { throw new DOMException("not here", "SecurityError"); }});
  }});
  await open(page);
  check("no storage: a plain sentence", /keeps nothing/.test(await plain(page)), await plain(page));
  await key(page, "I know");
  await newJob(page, "K-lost");
  await typed(page, "3000");
  check("no storage: booked while the page is open", await edits(page) === 1);
  await must(page, "Job");
  await seek(page, "Copy out");
  const copy = await downloaded(page, () => must(page, "Copy out"));
  check("no storage: the job can be copied out", /"format":\s*"levelrun-survey"/.test(copy.bytes.toString()), copy.name);
  await closed(context);
}

{
  const {context, page} = await browser("context", tablet);
  await open(page);
  await newJob(page, "K-lost-context");
  await typed(page, "3000");
  for (const digit of ["2", "4"]) await must(page, digit);
  const before = await picture(page);
  await page.evaluate(() => { window.loser = document.getElementById("sheet").getContext("webgl2").getExtension("WEBGL_lose_context"); window.loser.loseContext(); });
  await until(page, () => document.getElementById("sheet").getContext("webgl2").isContextLost());
  await page.keyboard.type("0");
  await page.evaluate(() => window.loser.restoreContext());
  await until(page, () => !document.getElementById("sheet").getContext("webgl2").isContextLost());
  await settle(page);
  check("a lost WebGL context: what was typed meanwhile is there", /240/.test(await said(page)), await said(page));
  await page.keyboard.press("Backspace");
  await settle(page);
  check("a lost WebGL context is rebuilt, pixel by pixel", await picture(page) === before);
  await page.keyboard.press("Backspace");
  await page.keyboard.press("Backspace");

  // A long day: booked and taken back again and again, with its frames, small so that they are soon drawn.
  const rounds = (n) => page.evaluate((n) => {
    const a = window.levelrun, frames = (k) => { for (let i = 0; i < k; ++i) a._web_frame(390, 844, 1, 0.016, 0, 0, 0, 0); };
    const at = (i) => a.ccall("web_target", "number", ["string", "number"], ["Undo", i]);
    frames(2);
    for (let i = 0; i < n; ++i) {
      a.ccall("web_typed", null, ["string"], [String(2300 + i % 100)]);
      frames(1);
      a._web_key(0, 1); a._web_key(0, 0);
      frames(2);
      a._web_pointer(at(0), at(1), 1);
      frames(1);
      a._web_button(1);
      frames(1);
      a._web_button(0);
      frames(2);
    }
    return a.HEAPU8.length;
  }, n);
  const small = await rounds(50), had = await edits(page), large = await rounds(300), more = await edits(page) - had;
  await written(page);
  check("memory stays flat over a long day", large - small <= 2 << 20 && more >= 290, (small / 1048576).toFixed(1) + " MiB after 50 readings, " + (large / 1048576).toFixed(1) + " MiB after " + more + " more");
  await closed(context);
}

// On the home screen there is no warning and nothing is offered on leaving.
{
  const {context, page} = await browser("installed", phone, {before: () => { Object.defineProperty(navigator, "standalone", {value: true}); }});
  await open(page);
  await until(page, () => window.levelrunReady, null, 20000).catch(() => {});
  await settle(page);
  check("on the home screen: no warning, and what was verified", !/home screen/.test(await bar(page)) && /Ready without a network.*free/.test(await bar(page)), await bar(page));
  await newJob(page, "K-home");
  await typed(page, "3000");
  await written(page);
  await must(page, "Jobs");
  check("on the home screen: nothing is offered on leaving", await plain(page) === "", await plain(page));
  await closed(context);
}
// Nothing is verified where no worker can be.
{
  const {context, page} = await browser("workless", phone, {before: () => {
    Object.defineProperty(Navigator.prototype, "serviceWorker", {get() { return {register: () => Promise.reject(new Error("none"))}; }});
  }});
  await open(page);
  await settle(page);
  check("“Ready without a network” is not said unverified", !/Ready without/.test(await bar(page)) && await bar(page) !== "", await bar(page));
  await closed(context);
}
