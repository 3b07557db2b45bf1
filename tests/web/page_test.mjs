// The web page in headless Chromium by touch, subject by subject.
//   node page_test.mjs BUILD LEVELRUN SAMPLES [PICTURES]      ONLY=keeping: that subject alone
import {readFileSync, readdirSync} from "node:fs";
import {join} from "node:path";
import {brotliCompressSync, gzipSync} from "node:zlib";
import {check, elsewhere, end, errors, failed, say, site} from "./drive.mjs";

for (const subject of ["booking", "keeping", "files", "limits", "numbers"]) {
  if (process.env.ONLY && process.env.ONLY !== subject) continue;
  const begin = Date.now();
  console.log("== " + subject);
  try { await import("./" + subject + ".mjs"); } catch (e) { check(subject + " was driven to its end", false, e.stack); }
  say(Math.round((Date.now() - begin) / 1000) + " s");
}
check("no request leaves the origin", elsewhere.length === 0, elsewhere.join(" ").slice(0, 200));
check("no error on the console", errors.length === 0, errors.slice(0, 3).join(" | "));
const sum = (pack) => readdirSync(site).map((f) => pack(readFileSync(join(site, f))).length).reduce((a, b) => a + b, 0);
const packed = sum((f) => gzipSync(f, {level: 9}));
say("transfer: gzip " + Math.round(packed / 1000) + " kB (at most 600 wanted: " + (packed <= 600000 ? "met" : "NOT met") + "), brotli " + Math.round(sum((f) => brotliCompressSync(f)) / 1000) + " kB");
await end();
process.exit(failed() === 0 ? 0 : 1);
