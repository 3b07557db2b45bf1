// What the tests of the web page drive it with: a host on this machine, Chromium with a finger, and
// words for what they find.
import {execFileSync} from "node:child_process";
import {createServer} from "node:http";
import {mkdtempSync, readFileSync, readlinkSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join, normalize} from "node:path";
import {createRequire} from "node:module";

// DRIVE: the folder that npm put playwright-core into.
const {chromium} = createRequire((process.env.DRIVE || process.cwd()) + "/")("playwright-core");

export const [build, levelrun, samples, pictures] = process.argv.slice(2);
export const folder = mkdtempSync(join(tmpdir(), "levelrun-web-"));
export const phone = {width: 390, height: 844}, tablet = {width: 800, height: 1280}, wide = {width: 1280, height: 800};
export const pause = (ms) => new Promise((go) => setTimeout(go, ms));
export const say = (text) => console.log("     " + text);

let failures = 0;
export function check(what, good, more = "") {
  console.log((good ? "ok   " : "FAIL ") + what + (more === "" ? "" : ": " + more));
  if (!good) ++failures;
}
export const failed = () => failures;

// ---- a static host; `folder` may be changed while it runs, and single files be given otherwise ----
const types = {html: "text/html", js: "text/javascript", wasm: "application/wasm", css: "text/css", svg: "image/svg+xml", webmanifest: "application/manifest+json"};
export class Host {
  constructor(site) { this.folder = site; this.otherwise = {}; }
  async start(port = 0) {
    this.server = createServer((request, answer) => {
      const path = normalize(new URL(request.url, "http://x").pathname).replace(/^\/+/, "") || "index.html";
      try {
        const data = this.otherwise[path] || readFileSync(join(this.folder, path));
        answer.writeHead(200, {"Content-Type": types[path.split(".").pop()] || "application/octet-stream"});
        answer.end(data);
      } catch { answer.writeHead(404); answer.end(); }
    });
    await new Promise((go) => this.server.listen(port, "127.0.0.1", go));
    this.origin = "http://127.0.0.1:" + this.server.address().port + "/";
    return this;
  }
  stop() { this.server.close(); this.server.closeAllConnections(); }
}
export const site = join(build, "site");
export const host = await new Host(site).start();

// ---- the browser; what it asks for elsewhere and complains of is noted ----
export const elsewhere = [], errors = [];
const contexts = new Set();
export async function browser(profile, size, {args = [], before = null} = {}) {
  const context = await chromium.launchPersistentContext(join(folder, profile), {
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium", headless: true, viewport: size, deviceScaleFactor: 2, hasTouch: true, acceptDownloads: true,
    args: [...(process.getuid() === 0 ? ["--no-sandbox"] : []), ...(args.length ? args : ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"])]});
  contexts.add(context);
  if (before) await context.addInitScript(before);
  const page = context.pages()[0] || await context.newPage();
  return {context, page: watched(page)};
}
export function watched(page) {
  page.on("console", (m) => { if (m.type() === "error") errors.push(m.text()); });
  page.on("pageerror", (e) => errors.push(e.message));
  page.on("request", (r) => { if (!r.url().startsWith("http://127.0.0.1:") && !r.url().startsWith("blob:") && !r.url().startsWith("data:")) elsewhere.push(r.url()); });
  return page;
}
export async function closed(context) {
  contexts.delete(context);
  await context.close();
}
// Chromium's own process, ended as by a dead battery.
export function kill(profile) { process.kill(Number(readlinkSync(join(folder, profile, "SingletonLock")).split("-").pop()), "SIGKILL"); }
export async function end() {
  for (const context of contexts) await context.close().catch(() => {});
  host.stop();
  rmSync(folder, {recursive: true, force: true, maxRetries: 5});
}

// Asked again and again from outside: the page's content policy lets nobody evaluate text inside it.
export async function until(page, test, argument = null, timeout = 30000) {
  for (const stop = Date.now() + timeout; Date.now() < stop; await pause(20)) {
    // A page that is reloading has nobody to ask.
    if (await page.evaluate(test, argument).catch((e) => { if (!/context was destroyed|navigat/i.test(e.message)) throw e; })) return true;
  }
  throw new Error("waited in vain for " + test);
}
export const drawn = (page) => until(page, () => window.levelrunFrames > 1, null, 60000);
export async function open(page, where = host.origin) {
  const begin = Date.now();
  await page.goto(where, {waitUntil: "load"});
  await drawn(page);
  const took = Date.now() - begin;
  await settle(page);
  return took;
}
// Nothing more is drawn.
export async function settle(page) {
  for (let calm = 0, stop = Date.now() + 20000; calm < 2 && Date.now() < stop; await pause(30))
    calm = await page.evaluate(() => window.levelrunBusy && window.levelrunBusy()) ? 0 : calm + 1;
}
export const written = (page) => until(page, () => window.levelrunPending && window.levelrunPending() === 0, null, 60000);
export const plain = (page) => page.evaluate(() => { const p = document.getElementById("plain"); return p.hidden ? "" : p.textContent; });
export const bar = (page) => page.evaluate(() => { const p = document.getElementById("bar"); return p.hidden ? "" : p.textContent; });
export const said = (page) => page.textContent("#said");
export async function key(page, label) {
  await page.locator("button", {hasText: label}).first().click();
  await settle(page);
}

// The share of pixels in which two pictures differ.
export const unlike = (page, one, other) => page.evaluate(async (both) => {
  const [a, b] = await Promise.all(both.map(async (text) => {
    const picture = await createImageBitmap(new Blob([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], {type: "image/png"}));
    const canvas = document.createElement("canvas");
    canvas.width = picture.width;
    canvas.height = picture.height;
    const pen = canvas.getContext("2d");
    pen.drawImage(picture, 0, 0);
    return pen.getImageData(0, 0, canvas.width, canvas.height).data;
  }));
  if (a.length !== b.length) return 1;
  let differ = 0;
  for (let i = 0; i < a.length; i += 4) if (Math.abs(a[i] - b[i]) > 48) ++differ;
  return differ / (a.length / 4);
}, [one, other]);
export const picture = async (page) => (await page.screenshot()).toString("base64");

// ---- a finger ----
const at = (page, label) => page.evaluate((l) => [0, 1].map((n) => window.levelrun.ccall("web_target", "number", ["string", "number"], [l, n])), label);
export const targets = (page) => page.evaluate(() => window.levelrun.UTF8ToString(window.levelrun._web_targets()).split("\n").filter((l) => l));
export async function tap(page, label) {
  const [x, y] = await at(page, label);
  if (x < 0) return false;
  await page.touchscreen.tap(x, y);
  await settle(page);
  return true;
}
export async function must(page, label) {
  if (await tap(page, label)) return;
  throw new Error("no target “" + label + "” among " + (await targets(page)).join(" | "));
}
// Scrolls downwards until a target is in sight.
export async function seek(page, label) {
  const {width, height} = page.viewportSize();
  for (let i = 0; i < 8 && !(await targets(page)).includes(label); ++i) await fingers(page, [[width / 2, height * 0.6]], [[width / 2, height * 0.25]]);
}
// Fingers at points of the page, moved in steps.
export async function fingers(page, from, to, steps = 8) {
  const session = await page.context().newCDPSession(page);
  const points = (k) => from.map(([x, y], i) => ({x: x + (to[i][0] - x) * k, y: y + (to[i][1] - y) * k, id: i}));
  await session.send("Input.dispatchTouchEvent", {type: "touchStart", touchPoints: points(0)});
  for (let s = 1; s <= steps; ++s) {
    await session.send("Input.dispatchTouchEvent", {type: "touchMove", touchPoints: points(s / steps)});
    await pause(16);
  }
  await session.send("Input.dispatchTouchEvent", {type: "touchEnd", touchPoints: []});
  await session.detach();
  await settle(page);
}
export async function typed(page, text) {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
  await settle(page);
}
// A file given to the chooser that a tap opens.
export async function choose(page, label, files) {
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), must(page, label)]);
  await chooser.setFiles(files);
  await pause(100);
  await settle(page);
}
// What a deed downloads: its name and bytes.
export async function downloaded(page, deed) {
  const [download] = await Promise.all([page.waitForEvent("download", {timeout: 60000}), deed()]);
  const path = join(folder, "download-" + download.suggestedFilename());
  await download.saveAs(path);
  return {name: download.suggestedFilename(), path, bytes: readFileSync(path)};
}

// ---- what is kept ----
export const path = (page) => page.evaluate(() => window.levelrun.UTF8ToString(window.levelrun._web_path()));
export const file = (page, name) => page.evaluate((n) => window.levelrun.UTF8ToString(window.levelrun.ccall("web_file", "number", ["string"], [n])), name);
export const journal = async (page) => file(page, (await path(page)).replace(".json", ".journal"));
export const lines = async (page) => (await journal(page)).split("\n").filter((l) => /^\{"n":\d+.*\}$/.test(l)).length;
export const edits = async (page) => (await journal(page)).split("\n").filter((l) => l.includes('"does":"edit"')).length;
// A new job of four corners, on its Walk round page.
export async function newJob(page, reference) {
  await must(page, "New job");
  await must(page, "reference");
  await page.keyboard.type(reference);
  await page.keyboard.press("Enter");
  await settle(page);
  await must(page, "4 corners");
  await must(page, "Walk round");
}
export const native = (...what) => execFileSync(levelrun, what, {maxBuffer: 1 << 27});
