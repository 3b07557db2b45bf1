// Nothing that was confirmed is lost: killed at random instants, reloaded in mid-entry, the storage full, two
// tabs, the server gone, a new version, an older one.
import {execFileSync} from "node:child_process";
import {appendFileSync, cpSync, mkdirSync, readFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";
import {bar, browser, build, check, closed, drawn, edits, folder, Host, host, journal, key, kill, lines, must, newJob, open, path, pause, phone, plain, said, settle, tablet, tap, targets, typed, until, watched, written} from "./drive.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
// The same numbers at each run; what they delay is never at quite the same place.
let seed = 20260312;
const random = (below) => { seed = (seed * 1103515245 + 12345) % 2147483648; return Math.floor(seed / 2147483648 * below); };

// Killed: the page shut, its process crashed, the whole browser killed.
{
  const rounds = 50, ways = {shut: 0, crashed: 0, killed: 0};
  let {context, page} = await browser("killed", phone);
  await open(page);
  await newJob(page, "K-50");
  await written(page);
  let confirmed = await lines(page), lost = 0, unconfirmed = 0, torn = 0;
  for (let round = 0; round < rounds; ++round) {
    // When all is booked, the last is taken back, so that there is something to book.
    if (/^All booked/.test(await said(page))) await must(page, "Undo");
    await written(page);
    confirmed = Math.max(confirmed, await lines(page));
    // Booked and confirmed, or killed while it is being written.
    await page.keyboard.type(String(2400 + round));
    await page.keyboard.press("Enter");
    if (round % 3 !== 0) {
      await settle(page);
      await written(page);
      confirmed = await lines(page);
    } else ++unconfirmed;
    await pause(random(50));
    const way = round % 10 === 9 ? "killed" : round % 2 ? "crashed" : "shut";
    ++ways[way];
    if (way === "killed") {
      kill("killed");
      await closed(context).catch(() => {});
      ({context, page} = await browser("killed", phone));
    } else {
      if (way === "crashed") {
        const session = await context.newCDPSession(page);
        session.send("Page.crash").catch(() => {});
        await pause(50);
      }
      await page.close({runBeforeUnload: false});
      page = watched(await context.newPage());
    }
    await open(page);
    if (await path(page) === "") {  // not where it was: through the index
      await must(page, (await targets(page)).find((l) => l.startsWith("/jobs/")));
      await must(page, "Walk round");
    }
    const there = await lines(page);
    if (there < confirmed) ++lost;
    // Whole lines only, numbered without a gap.
    const numbers = (await journal(page)).split("\n").filter((l) => l.startsWith('{"n":')).map((l) => Number(l.match(/^\{"n":(\d+)/)[1]));
    if (numbers.some((n, i) => n !== i + 1)) ++torn;
    confirmed = there;
  }
  check("killed " + rounds + " times: no confirmed reading is lost", lost === 0 && torn === 0, confirmed + " lines, " + unconfirmed + " unconfirmed; " + JSON.stringify(ways));

  // Reloaded in mid-entry.
  for (let i = 0; i < 20 && /^All booked/.test(await said(page)); ++i) await must(page, "Undo");
  for (const digit of ["2", "4", "7"]) await must(page, digit);
  const before = await said(page);
  await page.reload();
  await drawn(page);
  await settle(page);
  check("reloaded in mid-entry: what is half typed is still there", /247/.test(await said(page)) && await said(page) === before, await said(page));
  await must(page, "rub out");
  await must(page, "rub out");
  await must(page, "rub out");

  // The server gone.
  await until(page, () => window.levelrunReady, null, 20000).catch(() => {});
  check("ready without a network, when that was verified", await page.evaluate(() => !!window.levelrunReady));
  const port = Number(new URL(host.origin).port);
  host.stop();
  await page.reload();
  await drawn(page);
  check("opens with the server gone", true);
  const had = await lines(page);
  await tap(page, "Undo");
  await typed(page, "2401");
  await written(page);
  check("books with the server gone", await lines(page) > had);
  await tap(page, "Jobs");
  if (/Later/.test(await plain(page))) await key(page, "Later");
  await until(page, () => /Ready without/.test(document.getElementById("bar").textContent), null, 15000).catch(() => {});
  check("the index says so", /Ready without a network/.test(await bar(page)), await bar(page));
  await closed(context);
  await host.start(port);
}

// The storage full: said, kept in the page, and written once there is room.
{
  const {context, page} = await browser("full", tablet);
  await open(page);
  await newJob(page, "K-full");
  await typed(page, "3000");
  await written(page);
  const had = await lines(page);
  const session = await context.newCDPSession(page);
  await session.send("Storage.overrideQuotaForOrigin", {origin: host.origin, quotaSize: 1});
  await pause(31000);  // Chromium counts on the room that it last saw for 30 s (from memory)
  await typed(page, "2400");
  await until(page, () => !document.getElementById("plain").hidden, null, 10000).catch(() => {});
  check("storage full: said in a plain sentence", /not safe yet: the storage is full/.test(await plain(page)), await plain(page));
  await typed(page, "3001");
  check("storage full: nothing more is taken", await lines(page) === had + 1, await lines(page) - had);
  await session.send("Storage.overrideQuotaForOrigin", {origin: host.origin});
  await key(page, "Try again");
  await written(page);
  check("storage full: written once there is room", await plain(page) === "", await plain(page));
  await page.reload();
  await drawn(page);
  check("storage full: nothing is lost", await lines(page) >= had + 1, await lines(page));
  await closed(context);
}

// Two tabs: one books, the other looks on, and takes over when the first is closed.
{
  const {context, page} = await browser("tabs", phone);
  await open(page);
  await newJob(page, "K-two");
  await typed(page, "3000");
  await written(page);
  const second = watched(await context.newPage());
  await open(second);
  check("two tabs: the second says that it only looks on", /open in another tab/.test(await plain(second)), await plain(second));
  await must(second, (await targets(second)).find((l) => l.startsWith("/jobs/")));
  await must(second, "Walk round");
  const had = await lines(second);
  await typed(second, "2222");
  check("two tabs: the second changes nothing", await lines(second) === had && await second.evaluate(() => window.levelrunPending()) === 0);
  await page.bringToFront();
  await typed(page, "2400");
  await written(page);
  check("two tabs: the first books on", await lines(page) === had + 1);
  await page.close();
  await second.bringToFront();
  await until(second, () => /other tab was closed/.test(document.getElementById("plain").textContent));
  await second.locator("button", {hasText: "Go on here"}).click();
  await until(second, () => window.levelrunFrames > 1 && document.getElementById("plain").hidden);
  await settle(second);
  if (await path(second) === "") {
    await must(second, (await targets(second)).find((l) => l.startsWith("/jobs/")));
    await must(second, "Walk round");
  }
  check("two tabs: the second goes on with all that the first booked", await lines(second) >= had + 1);
  await closed(context);
}

// A new version: never while a job is open, never half, and then in one step.
{
  const next = join(folder, "next"), sources = join(folder, "sources");
  cpSync(join(root, "app/web"), sources, {recursive: true});
  appendFileSync(join(sources, "page.js"), "// the version after\n");
  mkdirSync(next, {recursive: true});
  execFileSync("python3", [join(root, "app/web/site.py"), sources, join(root, "assets/desktop"), join(build, "app"), next]);
  const own = await new Host(join(build, "site")).start();
  const {context, page} = await browser("update", phone);
  await open(page, own.origin);
  await until(page, () => window.levelrunReady);
  const first = await page.evaluate(() => window.levelrunReady);
  await page.reload();
  await drawn(page);
  await newJob(page, "K-new");
  const look = () => page.evaluate(async () => { await (await navigator.serviceWorker.getRegistration()).update().catch(() => {}); });
  const waiting = () => page.evaluate(async () => !!(await navigator.serviceWorker.getRegistration()).waiting);
  // The host is being filled: the new worker is there, the page is still the old one.
  own.otherwise["worker.js"] = readFileSync(join(next, "site/worker.js"));
  await look();
  await pause(1500);
  check("update: a version that is not whole is not taken", !await waiting());
  own.otherwise = {};
  own.folder = join(next, "site");
  await look();
  await until(page, async () => !!(await navigator.serviceWorker.getRegistration()).waiting);
  await pause(6000);
  check("update: not offered while a job is open", !/new version/.test(await plain(page)) && await page.evaluate(() => window.levelrunReady) === first, await plain(page));
  await must(page, "Jobs");
  await until(page, () => /new version/.test(document.getElementById("plain").textContent), null, 15000).catch(() => {});
  check("update: offered on the index of jobs", /new version/.test(await plain(page)), await plain(page));
  await page.locator("button", {hasText: "Take it up"}).click().catch(() => {});
  await until(page, (old) => window.levelrunReady && window.levelrunReady !== old, first, 20000).catch(() => {});
  const second = await page.evaluate(() => window.levelrunReady);
  check("update: taken up in one step", !!second && second !== first, first + " → " + second);
  check("update: the jobs are still there", (await targets(page)).some((l) => l.startsWith("/jobs/K-new")));
  own.stop();
  await page.reload();
  await drawn(page);
  check("update: the new version opens without a network", true);
  await closed(context);
}

// What a newer version has kept is only looked at.
{
  const {context, page} = await browser("newer", phone);
  await open(page);
  await newJob(page, "K-later");
  await typed(page, "3000");
  await written(page);
  await must(page, "Jobs");
  await page.evaluate(() => new Promise((go) => {
    // A line is sealed by the CRC-32 of all before its own comma (IEEE 802.3).
    const crc = (text) => {
      let sum = 0xFFFFFFFF;
      for (const byte of new TextEncoder().encode(text)) {
        sum ^= byte;
        for (let bit = 0; bit < 8; ++bit) sum = sum & 1 ? (sum >>> 1) ^ 0xEDB88320 : sum >>> 1;
      }
      return (~sum >>> 0).toString(16).padStart(8, "0");
    };
    const later = (text) => {
      const end = text.indexOf("\n"), head = text.slice(0, text.lastIndexOf(',"crc":', end)).replace('"version":1', '"version":2');
      return head + ',"crc":"' + crc(head) + '"}' + text.slice(end);
    };
    const open = indexedDB.open("levelrun");
    open.onsuccess = () => {
      const t = open.result.transaction("records", "readwrite"), all = t.objectStore("records");
      all.openCursor().onsuccess = (e) => {
        const c = e.target.result;
        if (!c) return;
        const text = new TextDecoder().decode(c.value.data);
        if (text.startsWith('{"format":"levelrun-journal","version":1')) c.update({...c.value, data: new TextEncoder().encode(later(text))});
        c.continue();
      };
      t.oncomplete = () => { open.result.close(); go(); };
    };
  }));
  await page.reload();
  await drawn(page);
  await settle(page);
  const job = (await targets(page)).find((l) => l.startsWith("/jobs/"));
  if (job) await must(page, job);
  await must(page, "Walk round");
  const was = await journal(page);
  await typed(page, "2400");
  check("a journal of a later version is only looked at", await journal(page) === was && was.includes('"version":2'));
  await page.evaluate(() => localStorage.clear());
  // And a storage of a later version.
  host.otherwise["blank.html"] = '<!doctype html><link rel="icon" href="data:,"><title>blank</title>';
  await page.goto(host.origin + "blank.html");
  await page.evaluate(() => new Promise((go) => { const o = indexedDB.open("levelrun", 7); o.onsuccess = () => { o.result.close(); go(); }; }));
  await open(page);
  check("a storage of a later version: said, and only looked at", /newer version of Levelrun has kept jobs/.test(await plain(page)), await plain(page));
  check("and its jobs are shown", (await targets(page)).some((l) => l.startsWith("/jobs/K-later")));
  await closed(context);
}
