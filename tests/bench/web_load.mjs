// How long the web page takes from nothing to its first screen, in a Chromium that never saw it and
// in one that has it cached.
//   DRIVE=BUILD/drive node web_load.mjs BUILD      BUILD: where sh tests/web/run.sh built the page
import {browser, closed, drawn, end, open, say, wide} from "../web/drive.mjs";

const median = (times) => times.sort((a, b) => a - b)[Math.floor(times.length / 2)];
const first = [], again = [];
for (let n = 0; n < 5; ++n) {
  const {context, page} = await browser("load-" + n, wide);
  first.push(await open(page));
  const begin = Date.now();
  await page.reload({waitUntil: "load"});
  await drawn(page);
  again.push(Date.now() - begin);
  await closed(context);
}
say("first screen: " + median(first) + " ms in a new Chromium, " + median(again) + " ms again (medians of " + first.length + ", drawn without a graphics card)");
await end();
process.exit(0);
