// The web page in headless Chromium by touch: a job from nothing to results, nothing lost when the page is
// killed, offline with the server gone, the same numbers as the native program, no request elsewhere.
//   node page_test.mjs SITE LEVELRUN SAMPLES [PICTURES]
import {execFileSync} from "node:child_process";
import {createServer} from "node:http";
import {mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, readdirSync} from "node:fs";
import {gzipSync} from "node:zlib";
import {tmpdir} from "node:os";
import {join, normalize} from "node:path";
import {createRequire} from "node:module";

// DRIVE: the folder that npm put playwright-core into.
const {chromium} = createRequire((process.env.DRIVE || process.cwd()) + "/")("playwright-core");
const [site, levelrun, samples, pictures] = process.argv.slice(2);
const types = {html: "text/html", js: "text/javascript", wasm: "application/wasm", css: "text/css", svg: "image/svg+xml", webmanifest: "application/manifest+json"};
let failures = 0;
function check(what, good, more = "") {
  console.log((good ? "ok   " : "FAIL ") + what + (more === "" ? "" : ": " + more));
  if (!good) ++failures;
}
// Asked again and again from outside: the page's content policy lets nobody evaluate text inside it.
async function until(page, test, argument = null, {timeout = 30000} = {}) {
  for (const end = Date.now() + timeout; Date.now() < end;) {
    if (await page.evaluate(test, argument)) return;
    await new Promise((go) => setTimeout(go, 20));
  }
  throw new Error("waited in vain for " + test);
}
function serve() {
  return new Promise((go) => {
    const server = createServer((request, answer) => {
      const path = normalize(new URL(request.url, "http://x").pathname).replace(/^\/+/, "") || "index.html";
      try {
        const data = readFileSync(join(site, path));
        answer.writeHead(200, {"Content-Type": types[path.split(".").pop()] || "application/octet-stream"});
        answer.end(data);
      } catch { answer.writeHead(404); answer.end(); }
    });
    server.listen(0, "127.0.0.1", () => go(server));
  });
}
const folder = mkdtempSync(join(tmpdir(), "levelrun-web-"));
let server = await serve();
const origin = "http://127.0.0.1:" + server.address().port + "/";
const elsewhere = [], errors = [];
async function browser(name, size, profile = name) {
  const context = await chromium.launchPersistentContext(join(folder, profile), {
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium", headless: true, viewport: size,
    deviceScaleFactor: 2, hasTouch: true, args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]});
  const page = context.pages()[0] || await context.newPage();
  page.on("console", (m) => { if (m.type() === "error") errors.push(m.text()); });
  page.on("pageerror", (e) => errors.push(e.message));
  page.on("request", (r) => { if (!r.url().startsWith(origin) && !r.url().startsWith("blob:") && !r.url().startsWith("data:")) elsewhere.push(r.url()); });
  return {context, page};
}
async function open(page, how = {}) {
  const begin = Date.now();
  await page.goto(origin, {waitUntil: "load", ...how});
  await until(page, () => window.levelrunFrames > 1, null, {timeout: 60000});
  return Date.now() - begin;
}
const settle = (page) => page.waitForTimeout(120);
async function tap(page, label) {
  const at = await page.evaluate((l) => [window.levelrun.ccall("web_target", "number", ["string", "number"], [l, 0]),
    window.levelrun.ccall("web_target", "number", ["string", "number"], [l, 1])], label);
  if (at[0] < 0) return false;
  await page.touchscreen.tap(at[0], at[1]);
  await settle(page);
  return true;
}
async function must(page, label) {
  if (!await tap(page, label)) check("there is a target “" + label + "”", false, await page.evaluate(() => window.levelrun.UTF8ToString(window.levelrun._web_targets()).replaceAll("\n", " | ")));
}
async function type(page, text) {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
  await settle(page);
}
const written = (page) => until(page, () => window.levelrunPending && window.levelrunPending() === 0, null, {timeout: 10000});
const file = (page) => page.evaluate(() => { const a = window.levelrun; return a.UTF8ToString(a.ccall("web_file", "number", ["string"], [a.UTF8ToString(a._web_path())])); });
const journal = (page) => page.evaluate(() => { const a = window.levelrun; const p = a.UTF8ToString(a._web_path()).replace(".json", ".journal"); return a.UTF8ToString(a.ccall("web_file", "number", ["string"], [p])); });

const edits = async (page) => (await journal(page)).split("\n").filter((l) => l.includes('"does":"edit"')).length;

// From nothing to results, at three sizes.
for (const [name, size] of [["phone", {width: 390, height: 844}], ["tablet", {width: 800, height: 1280}], ["tablet-wide", {width: 1280, height: 800}]]) {
  const {context, page} = await browser(name, size);
  const load = await open(page);
  console.log("     " + name + ": first screen after " + load + " ms");
  await must(page, "New job");
  await must(page, "reference");
  await page.keyboard.type("K-9 Küche");
  await page.keyboard.press("Enter");
  await settle(page);
  await must(page, "4 corners");
  await must(page, "Walk round");
  for (const length of ["3000", "2400", "3000", "2400", "3842", "3842"]) await type(page, length);
  await written(page);
  const lines = (await journal(page)).split("\n").filter((l) => l.includes('"does":"edit"')).length;
  check(name + ": six lengths by hardware keys are six edits in the journal", lines === 6, lines);
  for (const key of ["2", "4", "1", "0"]) await must(page, key);
  check(name + ": a screen reader is told the field and the value", /2410/.test(await page.textContent("#said")), await page.textContent("#said"));
  if (pictures) { mkdirSync(pictures, {recursive: true}); await page.screenshot({path: join(pictures, "web-" + name + ".png")}); }
  const before = await page.evaluate(() => window.levelrunFrames);
  await page.waitForTimeout(3000);
  check(name + ": no frame while nothing happens", await page.evaluate(() => window.levelrunFrames) === before);
  await context.close();
}

// Killed at random instants: what was written is there.
{
  let survived = true, rounds = 0;
  const size = {width: 390, height: 844};
  let {context, page} = await browser("killed", size);
  await open(page);
  await must(page, "New job");
  await must(page, "Practice job, five minutes");
  await must(page, "Walk round");
  await written(page);
  let confirmed = 0;
  for (; rounds < 12; ++rounds) {
    // When all is booked, the last is taken back, so that there is something to book again.
    if (rounds >= 5) { await tap(page, "Undo"); await written(page); }
    const text = String(2400 + rounds);
    await page.keyboard.type(text);
    await page.keyboard.press("Enter");
    // Sometimes the write is awaited and must be there, sometimes the page dies at once.
    if (rounds % 3 !== 2) { await settle(page); await written(page); confirmed = await edits(page); }
    await page.waitForTimeout(Math.floor((rounds * 7919) % 40));
    await page.close({runBeforeUnload: false});
    page = await context.newPage();
    page.on("pageerror", (e) => errors.push(e.message));
    await open(page);
    const path = await page.evaluate(() => { const a = window.levelrun; return a.UTF8ToString(a._web_targets()).split("\n").find((l) => l.startsWith("/jobs/")); });
    if (!path) { survived = false; break; }
    await must(page, path);
    await must(page, "Walk round");
    const there = await edits(page);
    if (there < confirmed) survived = false;
    confirmed = there;
  }
  check("killed " + rounds + " times: no confirmed reading is lost", survived, confirmed + " edits");
  // Offline with the server gone.
  await until(page, () => window.levelrunReady, null, {timeout: 20000}).catch(() => {});
  check("ready without a network", await page.evaluate(() => !!window.levelrunReady));
  server.close();
  server.closeAllConnections();
  await page.reload();
  await until(page, () => window.levelrunFrames > 1, null, {timeout: 30000});
  check("opens with the server gone", true);
  await context.close();
}

// The same numbers as the native program.
server = await serve();
{
  const {context, page} = await browser("numbers", {width: 800, height: 1280});
  await page.goto("http://127.0.0.1:" + server.address().port + "/");
  await until(page, () => window.levelrunFrames > 1, null, {timeout: 60000});
  let worst = 0, different = "";
  const compare = (a, b, at) => {
    if (typeof a === "number" && typeof b === "number") { if (Math.abs(a - b) > worst) { worst = Math.abs(a - b); different = at; } return; }
    if (a !== null && b !== null && typeof a === "object" && typeof b === "object") {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) compare(a[key], b[key], at + "/" + key);
      return;
    }
    if (a !== b) { worst = Infinity; different = at + " " + a + " " + b; }
  };
  for (const name of readdirSync(samples).filter((f) => f.endsWith(".levelrun.json"))) {
    const text = readFileSync(join(samples, name), "utf8");
    const here = JSON.parse(execFileSync(levelrun, ["solve", join(samples, name)], {maxBuffer: 1 << 26}));
    const there = JSON.parse(await page.evaluate((t) => {
      const a = window.levelrun, length = a.lengthBytesUTF8(t) + 1, at = a._malloc(length);
      a.stringToUTF8(t, at, length);
      const out = a.UTF8ToString(a._web_solve(at));
      a._free(at);
      return out;
    }, text));
    compare(here, there, name);
  }
  check("samples solved alike to 1e-6", worst <= 1.000001e-6, worst + " " + different);
  await context.close();
}
check("no request leaves the origin", elsewhere.filter((u) => !u.startsWith("http://127.0.0.1")).length === 0, elsewhere.join(" ").slice(0, 200));
check("no error on the console", errors.length === 0, errors.slice(0, 3).join(" | "));
const packed = readdirSync(site).map((f) => gzipSync(readFileSync(join(site, f))).length).reduce((a, b) => a + b, 0);
console.log("     transfer, gzip: " + Math.round(packed / 1000) + " kB (at most 600: " + (packed <= 600000 ? "met" : "not met") + ")");
server.close();
server.closeAllConnections();
rmSync(folder, {recursive: true, force: true});
process.exit(failures === 0 ? 0 : 1);
