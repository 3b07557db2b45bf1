// Files in and out of the page: a pack as on the desk, photos without what is not seen, all jobs as one file,
// and what is no survey.
import {execFileSync} from "node:child_process";
import {readFileSync, readdirSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {browser, check, choose, closed, downloaded, file, folder, key, must, native, newJob, open, pause, path, phone, plain, said, samples, seek, settle, tablet, tap, targets, until, written} from "./drive.mjs";

const python = (text, ...args) => execFileSync("python3", ["-c", text, ...args]).toString().trim();
// A file that the page keeps, with all its bytes.
const kept = async (page, name) => Buffer.from(await page.evaluate((wanted) => new Promise((go) => {
  const open = indexedDB.open("levelrun");
  open.onsuccess = () => {
    const all = open.result.transaction("records").objectStore("records").getAll();
    all.onsuccess = () => { const r = all.result.filter((x) => x.kind === "put" && x.path === wanted).pop(); open.result.close(); go(r ? [...r.data] : []); };
  };
}), name));
const sizeOf = (jpeg) => {  // of the first frame header (ITU-T T.81, B.2.2)
  for (let i = 2; i + 9 < jpeg.length; i += 2 + jpeg.readUInt16BE(i + 2))
    if (jpeg[i + 1] >= 0xC0 && jpeg[i + 1] <= 0xC2) return [jpeg.readUInt16BE(i + 7), jpeg.readUInt16BE(i + 5)];
  return [0, 0];
};

// The pack.
{
  const {context, page} = await browser("files", tablet);
  await open(page);
  const sample = "small-l-kitchen.levelrun.json";
  await choose(page, "Open a file", join(samples, sample));
  check("a survey chosen is opened", (await path(page)).endsWith("/" + sample), await path(page));
  await seek(page, "Job pack");
  const begin = Date.now();
  const pack = await downloaded(page, () => must(page, "Job pack")).catch((e) => ({name: "", bytes: Buffer.alloc(0), why: e.message}));
  check("the job pack is a PDF", pack.bytes.subarray(0, 5).toString() === "%PDF-" && pack.name.endsWith(".pdf"), pack.name + ", " + pack.bytes.length + " bytes, " + (Date.now() - begin) + " ms " + (pack.why || ""));
  if (pack.path) {
    const desk = join(folder, "desk.pdf");
    // The page gives its survey as it would be saved, so the desk prints that one.
    const own = join(folder, sample);
    writeFileSync(own, await file(page, await path(page)));
    native("report", own, "-o", desk);
    const text = (pdf) => execFileSync("pdftotext", ["-layout", pdf, "-"], {maxBuffer: 1 << 26}).toString();
    check("the pack says what the desk's says", text(pack.path) === text(desk), pack.bytes.equals(readFileSync(desk)) ? "byte for byte" : "the text, not the bytes");
    // And it brings its survey along.
    await must(page, "Jobs");
    if (/Later/.test(await plain(page))) await key(page, "Later");
    await choose(page, "Open a file", pack.path);
    check("a pack chosen is opened as the survey inside", /\/jobs\/.*\.levelrun\.json$/.test(await path(page)), await path(page));
  }
  await closed(context);
}

// Two revisions compared, and printed side by side as on the desk.
{
  const {context, page} = await browser("comparison", tablet);
  await open(page);
  const before = join(folder, "two.levelrun.json"), after = join(folder, "two-rev2.levelrun.json");
  const survey = JSON.parse(readFileSync(join(samples, "small-l-kitchen.levelrun.json")));
  writeFileSync(before, JSON.stringify(survey));
  survey.job.revision = (survey.job.revision || 1) + 1;
  survey.furniture.plinth = {...survey.furniture.plinth, height: 120};
  writeFileSync(after, JSON.stringify(survey));
  await choose(page, "Open a file", before);
  await must(page, "Jobs");
  if (/Later/.test(await plain(page))) await key(page, "Later");
  await choose(page, "Open a file", after);
  await must(page, "Release");
  await must(page, "Compare revisions");
  const print = await downloaded(page, () => must(page, "Print comparison")).catch((e) => ({name: "", bytes: Buffer.alloc(0), why: e.message}));
  check("a comparison is a PDF", print.bytes.subarray(0, 5).toString() === "%PDF-", print.name + ", " + print.bytes.length + " bytes " + (print.why || ""));
  if (print.path) {
    const desk = join(folder, "compared.pdf");
    native("compare", before, after, "-o", desk);
    const text = (pdf) => execFileSync("pdftotext", ["-layout", pdf, "-"]).toString();
    check("the comparison says what the desk's says", text(print.path) === text(desk), text(print.path).split("\n").filter((l) => l.trim()).length + " lines");
  }
  await closed(context);
}

// Photos, and all jobs as one file.
{
  const {context, page} = await browser("photos", tablet);
  await open(page);
  await newJob(page, "K-photo");
  await must(page, "Walls");
  const picture = async (w, h, name, exif) => {
    const bytes = Buffer.from(await page.evaluate(async ([w, h]) => {
      const canvas = document.createElement("canvas");
      canvas.width = w;
      canvas.height = h;
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#fff";
      pen.fillRect(0, 0, w, h);
      pen.fillStyle = "#000";
      pen.fillRect(0, 0, w / 2, h);
      const blob = await new Promise((go) => canvas.toBlob(go, "image/jpeg", 0.8));
      return btoa(Array.from(new Uint8Array(await blob.arrayBuffer()), (b) => String.fromCharCode(b)).join(""));
    }, [w, h]), "base64");
    const made = join(folder, name);
    writeFileSync(made, Buffer.concat([bytes.subarray(0, 2), exif, bytes.subarray(2)]));
    return made;
  };
  // EXIF (big-endian TIFF): orientation 6, and a text such as a camera leaves.
  const exif = (() => {
    const text = Buffer.from("GPS 54.1 N 12.1 E\0");
    const tiff = Buffer.alloc(8 + 2 + 2 * 12 + 4);
    tiff.write("MM\0*", 0, "latin1");
    tiff.writeUInt32BE(8, 4);
    tiff.writeUInt16BE(2, 8);
    tiff.writeUInt16BE(0x010E, 10); tiff.writeUInt16BE(2, 12); tiff.writeUInt32BE(text.length, 14); tiff.writeUInt32BE(tiff.length, 18);
    tiff.writeUInt16BE(0x0112, 22); tiff.writeUInt16BE(3, 24); tiff.writeUInt32BE(1, 26); tiff.writeUInt16BE(6, 30);
    const body = Buffer.concat([Buffer.from("Exif\0\0"), tiff, text]), head = Buffer.from([0xFF, 0xE1, 0, 0]);
    head.writeUInt16BE(body.length + 2, 2);
    return Buffer.concat([head, body]);
  })();
  const job = await path(page), below = job.replace(".levelrun.json", ".photos/");
  const add = async (picture) => {
    await seek(page, "Add a photo");
    await choose(page, "Add a photo", picture);
    await pause(300);
    await written(page);
  };
  await add(await picture(3000, 1000, "turned.jpg", exif));
  await until(page, (f) => window.levelrun.ccall("web_file", "number", ["string"], [f]) && window.levelrunPending() === 0, below + "photo-1.jpg");
  const first = await kept(page, below + "photo-1.jpg"), [w, h] = sizeOf(first);
  check("a photo is turned upright and made smaller", w > 0 && h === 2048 && Math.abs(w - 683) <= 1, w + "×" + h);
  check("nothing but what is seen is left of it", !first.includes("GPS") && !first.includes("Exif"));
  const begin = Date.now();
  await add(await picture(8192, 6144, "large.jpg", Buffer.alloc(0)));
  for (let i = 0; i < 100 && (await kept(page, below + "photo-2.jpg")).length === 0 && await plain(page) === ""; ++i) await pause(200);
  const second = await kept(page, below + "photo-2.jpg");
  check("a photo of 50 megapixels is kept smaller, or refused in words", second.length ? sizeOf(second)[0] === 2048 : await plain(page) !== "", second.length ? sizeOf(second).join("×") + " after " + (Date.now() - begin) + " ms" : await plain(page));
  writeFileSync(join(folder, "broken.jpg"), Buffer.concat([first.subarray(0, 200), Buffer.alloc(100, 7)]));
  await add(join(folder, "broken.jpg"));
  check("a broken photo adds nothing", (await kept(page, below + "photo-3.jpg")).length === 0);

  await page.goBack().catch(() => {});
  await settle(page);
  for (let i = 0; i < 3 && !(await targets(page)).includes("New job"); ++i) await tap(page, "Jobs");
  if (/Later/.test(await plain(page))) await key(page, "Later");
  await must(page, "New job");
  await must(page, "Practice job, five minutes");
  await must(page, "Jobs");
  if (/Later/.test(await plain(page))) await key(page, "Later");
  await must(page, "Settings");
  await seek(page, "Copy all jobs out");
  const all = await downloaded(page, () => must(page, "Copy all jobs out"));
  const inside = python("import sys,zipfile; z=zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; print('\\n'.join(z.namelist()))", all.path).split("\n");
  check("all jobs are one archive that others read", inside.filter((n) => n.endsWith(".levelrun.json")).length === 2 && inside.some((n) => n.endsWith(".photos/photo-1.jpg")), all.name + ": " + inside.join(", "));
  check("the archive has the job as it stands", python("import sys,zipfile; print(zipfile.ZipFile(sys.argv[1]).read(sys.argv[2]).decode())", all.path, job.split("/").pop()) === (await file(page, job)).trim());
  const packed = join(folder, "packed.zip");
  python("import sys,zipfile\na=zipfile.ZipFile(sys.argv[1]); b=zipfile.ZipFile(sys.argv[2],'w',zipfile.ZIP_DEFLATED)\nfor n in a.namelist(): b.writestr('from the old tablet/'+n,a.read(n))\nb.close()", all.path, packed);
  await closed(context);

  // On another tablet, as it is and packed anew by a desk.
  for (const [name, archive] of [["stored", all.path], ["deflated", packed]]) {
    const {context, page} = await browser("taken-" + name, phone);
    await open(page);
    await choose(page, "Open a file", archive);
    await written(page);
    check("taken in, " + name, /Taken in: 2 jobs, 2 photos/.test(await said(page)), await said(page));
    check("with its photo, byte for byte, " + name, (await kept(page, below + "photo-1.jpg")).equals(first));
    await choose(page, "Open a file", archive);
    check("and not twice, " + name, /2 jobs were here already/.test(await said(page)), await said(page));
    await closed(context);
  }
}

// What is no survey: said, and nothing is lost.
{
  const {context, page} = await browser("foreign", phone);
  await open(page);
  const whole = readFileSync(join(samples, readdirSync(samples).filter((f) => f.endsWith(".levelrun.json"))[0]));
  for (const [name, bytes, word] of [["notes.json", "shopping list", /notes.json was not opened/], ["cut.levelrun.json", whole.subarray(0, whole.length / 2), /cut.levelrun.json was not opened/],
      ["letter.pdf", "%PDF-1.4 nothing", /letter.pdf was not opened/], ["torn.zip", "PK\x03\x04 torn", /torn.zip is damaged/], ["bytes.json", Buffer.from([0xFF, 0xFE, 0, 1]), /bytes.json was not opened/]]) {
    writeFileSync(join(folder, name), bytes);
    await choose(page, "Open a file", join(folder, name));
    check("said: " + name, word.test(await said(page)), (await said(page)).slice(0, 120));
  }
  writeFileSync(join(folder, "huge.json"), Buffer.alloc(17 << 20, 32));
  await choose(page, "Open a file", join(folder, "huge.json"));
  check("said: a file that is too large", /larger than such a file may be/.test(await plain(page)), await plain(page));
  check("no job has come of it", !(await targets(page)).some((l) => l.startsWith("/jobs/")));
  await closed(context);
}
