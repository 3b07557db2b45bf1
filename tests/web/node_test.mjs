// Under node, with the page's own objects: the unit tests, and simulated rooms with the same numbers as natively.
//   node node_test.mjs BUILD SIMULATED_ROOMS SAMPLES       SIMULATED_ROOMS: the native program
import {execFileSync, spawnSync} from "node:child_process";
import {join} from "node:path";
import {Same} from "./same.mjs";

const [build, rooms, samples] = process.argv.slice(2), many = "120";
// What Debian's emscripten writes takes node's own fetch for a browser's.
const node = (program, ...args) => [process.execPath, ["--no-experimental-fetch", join(build, "app", program), ...args]];
let good = true;
const [program, args] = node("unit_tests.js", "--no-colors");
if (spawnSync(program, args, {stdio: "inherit"}).status !== 0) good = false;
const lines = (program, args) => execFileSync(program, args, {maxBuffer: 1 << 28}).toString().trim().split("\n");
const here = lines(rooms, [samples, many]), there = lines(...node("simulated_rooms.js", samples, many));
const same = new Same();
if (here.length !== Number(many) || there.length !== here.length) good = false;
else here.forEach((line, i) => same.compare(JSON.parse(line), JSON.parse(there[i]), "survey " + i));
good = good && same.good();
console.log((good ? "ok   " : "FAIL ") + many + " simulated surveys solved alike to 1e-6: " + same.words());
process.exit(good ? 0 : 1);
