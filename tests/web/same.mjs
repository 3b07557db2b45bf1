// Whether two results are the same: numbers to 1e-6, all else exactly.
const most = 1.000001e-6;  // mm; results have six decimals, and half a digit is lost in reading them

export class Same {
  worst = 0; where = ""; numbers = 0;
  compare(a, b, at) {
    if (typeof a === "number" && typeof b === "number") {
      ++this.numbers;
      if (Math.abs(a - b) > this.worst) { this.worst = Math.abs(a - b); this.where = at; }
    } else if (a !== null && b !== null && typeof a === "object" && typeof b === "object") {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) this.compare(a[key], b[key], at + "/" + key);
    } else if (a !== b) { this.worst = Infinity; this.where = at + ": " + a + ", " + b; }
  }
  good() { return this.numbers > 1000 && this.worst <= most; }
  words() { return this.numbers + " numbers, at most " + this.worst + " apart" + (this.worst > 0 ? " at " + this.where : ""); }
}
