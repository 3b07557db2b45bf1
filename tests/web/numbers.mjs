// The same numbers as the native program, to 1e-6 mm.
import {readFileSync, readdirSync} from "node:fs";
import {join} from "node:path";
import {Same} from "./same.mjs";
import {browser, check, closed, native, open, samples, tablet} from "./drive.mjs";

const {context, page} = await browser("numbers", tablet);
await open(page);
const same = new Same();
for (const name of readdirSync(samples).filter((f) => f.endsWith(".levelrun.json"))) {
  const here = JSON.parse(native("solve", join(samples, name)));
  const there = await page.evaluate((t) => {
    const a = window.levelrun, length = a.lengthBytesUTF8(t) + 1, at = a._malloc(length);
    a.stringToUTF8(t, at, length);
    const begin = performance.now(), out = a.UTF8ToString(a._web_solve(at));
    window.levelrunTook = performance.now() - begin;
    a._free(at);
    return out;
  }, readFileSync(join(samples, name), "utf8"));
  same.compare(here, JSON.parse(there), name);
}
check("samples solved alike to 1e-6", same.good(), same.words());
await closed(context);
