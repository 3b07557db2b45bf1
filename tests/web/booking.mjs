// A survey by touch at three sizes: taps, hardware keys, pinch, drag, rotation, words by composition, what a
// screen reader is told, and nothing drawn while nothing happens.
import {mkdirSync} from "node:fs";
import {join} from "node:path";
import {bar, browser, check, closed, edits, fingers, must, newJob, open, pause, phone, picture, pictures, plain, said, say, settle, tablet, targets, typed, unlike, wide, written} from "./drive.mjs";

const planOf = (size) => size.width > size.height ? [size.width / 4, size.height / 2] : [size.width / 2, size.height * 0.25];

for (const [name, size] of [["phone", phone], ["tablet", tablet], ["tablet-wide", wide]]) {
  const {context, page} = await browser(name, size);
  say(name + ": first screen after " + await open(page) + " ms (at most 1500 wanted)");
  if (name === "phone") check("not on the home screen: a standing warning", /Not on the home screen/.test(await bar(page)), await bar(page));
  await newJob(page, "K-9 Küche");
  check(name + ": no warning over the work while a job is open", await bar(page) === "" && await plain(page) === "");
  for (const length of ["3000", "2400", "3000", "2400", "3842", "3842"]) await typed(page, length);
  await written(page);
  check(name + ": six lengths by hardware keys are six edits in the journal", await edits(page) === 6, await edits(page));
  for (const digit of ["2", "4", "1", "0"]) await must(page, digit);
  check(name + ": a screen reader is told the field and the value", /2410/.test(await said(page)), await said(page));
  if (pictures) { mkdirSync(pictures, {recursive: true}); await page.screenshot({path: join(pictures, "web-" + name + ".png")}); }

  // Two fingers from 60 apart to 120 and back: what lies between them stays between them. One finger across.
  const [x, y] = planOf(size), before = await picture(page), had = (await targets(page)).join();
  const apart = [[x - 60, y], [x + 60, y]], together = [[x - 30, y], [x + 30, y]];
  const untouched = async () => (await targets(page)).join() === had && await edits(page) === 6 && /2410/.test(await said(page));
  await fingers(page, together, apart);
  const pinched = await picture(page), little = 0.0005, zoomed = await unlike(page, before, pinched);
  check(name + ": a pinch zooms the plan and taps nothing", zoomed > 4 * little && await untouched(), zoomed.toFixed(5));
  await fingers(page, [[x, y]], [[x + 40, y + 30]]);
  check(name + ": a drag moves the plan and taps nothing", await unlike(page, await picture(page), pinched) > 4 * little && await untouched());
  await fingers(page, [[x, y]], [[x - 40, y - 30]]);
  check(name + ": a drag back puts it where it was", await unlike(page, await picture(page), pinched) < little);
  await fingers(page, apart, together);
  const again = await unlike(page, await picture(page), before);
  check(name + ": a pinch back too", again < little, again.toFixed(5));

  await page.setViewportSize({width: size.height, height: size.width});
  await settle(page);
  check(name + ": turned, what is half typed is still there", /2410/.test(await said(page)) && (await targets(page)).includes("Book"), await said(page));
  await page.setViewportSize(size);
  await settle(page);

  // Nothing happens: no frame, and hardly a task of the processor.
  const session = await context.newCDPSession(page);
  await session.send("Performance.enable");
  const spent = async () => (await session.send("Performance.getMetrics")).metrics.find((m) => m.name === "TaskDuration").value;
  const frames = () => page.evaluate(() => window.levelrunFrames);
  const [f, t] = [await frames(), await spent()];
  await pause(3000);
  const [g, u] = [await frames(), await spent()];
  check(name + ": no frame while nothing happens", g === f, Math.round((u - t) * 1000) + " ms of work in 3 s");
  await closed(context);
}

// Words by a soft keyboard: composed, changed while composing, taken by Enter.
{
  const {context, page} = await browser("words", phone);
  await open(page);
  await must(page, "New job");
  await must(page, "reference");
  check("words: a real field lies over ours", await page.evaluate(() => document.activeElement.id === "words" && !document.getElementById("words").hidden));
  const session = await context.newCDPSession(page);
  await session.send("Input.imeSetComposition", {text: "Kuc", selectionStart: 3, selectionEnd: 3});
  await session.send("Input.imeSetComposition", {text: "Küche", selectionStart: 5, selectionEnd: 5});
  await session.send("Input.insertText", {text: "Küche"});
  await page.keyboard.type(" 7");
  await page.keyboard.press("Enter");
  await settle(page);
  await must(page, "4 corners");
  const job = JSON.parse(await page.evaluate(() => { const a = window.levelrun; return a.UTF8ToString(a.ccall("web_file", "number", ["string"], [a.UTF8ToString(a._web_path())])); }));
  check("words: composed letters arrive whole", job.job.reference === "Küche 7", job.job.reference);
  // Notches and rounded corners.
  const top = () => page.evaluate(() => window.levelrun.ccall("web_target", "number", ["string", "number"], ["Jobs", 1]));
  const before = await top();
  await session.send("Emulation.setSafeAreaInsetsOverride", {insets: {top: 40, bottom: 20}});
  await page.setViewportSize({width: phone.width, height: phone.height - 1});
  await settle(page);
  check("what is tapped keeps clear of a notch", await top() - before === 40, await top() - before);
  // The device's back gesture is back in the app.
  await must(page, "Walk round");
  await typed(page, "3000");
  await page.evaluate(() => history.back());
  await pause(200);
  await settle(page);
  check("back goes to the index of jobs", (await targets(page)).includes("New job"));
  check("the job left is offered as a file", /kept in this browser only/.test(await plain(page)), await plain(page));
  await closed(context);
}
