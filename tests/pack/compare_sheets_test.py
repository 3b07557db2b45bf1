"""Two revisions printed and read back with poppler: every number is one of `levelrun compare --json`.

    compare_sheets_test.py LEVELRUN SAMPLES
"""
import json
import re
import sys
import tempfile
import unittest
from pathlib import Path

from printed import SAMPLES, Pack, overlapping, run, shown, tool


class Compare(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.old = SAMPLES / "small-l-kitchen.levelrun.json"

    def compared(self, change, options=(), old=None):
        document = json.loads((old or self.old).read_text())
        document["job"]["revision"] = 2
        change(document)
        new = Path(self.folder.name) / "new.levelrun.json"
        new.write_text(json.dumps(document), encoding="utf-8")
        sheet = Pack.__new__(Pack)
        sheet.survey, sheet.pdf = new, new.with_suffix(".pdf")
        sheet.made = run("compare", old or self.old, new, "-o", sheet.pdf, *options)
        self.assertEqual((sheet.made.returncode, sheet.made.stderr, sheet.made.stdout),
                         (0, b"", b""))
        sheet.pages = int(re.search(rb"Pages:\s+(\d+)", tool("pdfinfo", sheet.pdf)).group(1))
        return sheet, json.loads(run("compare", "--json", old or self.old, new).stdout)

    @staticmethod
    def one_reading(document):
        document["rooms"][0]["levels"]["setups"][0]["readings"][6]["staff"] += 8

    def rows(self, sheet, heading, until):
        """The lines between two headings, cut where two or more spaces stand."""
        lines, taken = [], False
        for page in range(1, sheet.pages + 1):
            for line in sheet.text(page).split("\n"):
                if line.startswith(until):
                    taken = False
                if taken and line.strip():
                    lines.append(re.split(r"\s{2,}", line.strip()))
                if line.startswith(heading):
                    taken = True
        return lines

    def test_one_reading_changed_and_every_number_is_the_comparisons(self):
        sheet, said = self.compared(self.one_reading)
        self.assertEqual(len(said["facts"]), 1)
        fact = said["facts"][0]
        self.assertEqual(self.rows(sheet, "Facts: 1 changed", "Results:")[1:],
                         [["Set-up A, reading of P6, staff", f"{fact['old']:g}", f"{fact['new']:g}",
                           f"+{fact['by']:g}", shown(fact["band"])]])
        printed = {row[0]: row[1:] for row in self.rows(sheet, "Every result", "Seen and agreed")
                   if row[0] not in ("Result", "Compare: MH-26-031, revision 1 → revision 2")
                   and not row[0].startswith("MH-26-031")}
        self.assertEqual(len(printed), len(said["results"]))
        self.assertGreater(len(printed), 20)
        for r in said["results"]:
            at = r["at"] if r["kind"] == "clearance" else r["at"].replace("_", " ")
            name = f"{r['kind']} {at}, {r['what']}"
            was, now, *by = printed[name[0].upper() + name[1:]]
            if not isinstance(r["old"], float) and not isinstance(r["old"], int):
                self.assertEqual((was, now), (r["old"], r["new"]))
                continue
            for places in (1, 2):  # another digit where both would read the same
                texts = shown(r["old"], places), shown(r["new"], places)
                if texts[0] != texts[1]:
                    break
            self.assertEqual((was, now), texts, name)
            number = [float(text.replace("−", "-")) for text in texts]
            self.assertEqual(by[0].replace("−", "-"), f"{number[1] - number[0]:+.{places}f}", name)
        flat = re.sub(r"\s+", " ", sheet.text())
        for finding in said["findings"]:
            self.assertIn(" ".join(finding["says"].split()[:6]), flat)
        for m in said["movements"]:
            self.assertRegex(flat, rf"{m['kind']} {re.escape(m['what'])} [+−]")

    def test_which_revisions_and_which_page_stand_on_every_page(self):
        sheet, _ = self.compared(self.one_reading)
        self.assertGreater(sheet.pages, 1)
        for page in range(1, sheet.pages + 1):
            text = sheet.text(page)
            self.assertIn(f"page {page} of {sheet.pages}", text)
            self.assertEqual(text.count("MH-26-031, revision 1 → revision 2"), 2)  # head and foot
            self.assertEqual(overlapping(sheet.words(page)), [])

    def test_it_carries_the_later_survey_and_a_mark_of_its_numbers(self):
        sheet, _ = self.compared(self.one_reading)
        self.assertEqual(run("solve", sheet.pdf).stdout, run("solve", sheet.survey).stdout)
        mark = re.compile(r"Agreement mark ([B-Z]{4})")
        first = mark.findall(sheet.text())[0]
        self.assertEqual(mark.findall(self.compared(self.one_reading)[0].text())[0], first)
        other, _ = self.compared(
            lambda d: d["rooms"][0]["levels"]["setups"][0]["readings"][6].update(staff=1340))
        self.assertNotEqual(mark.findall(other.text())[0], first)

    def test_nothing_changed_another_job_letter_paper_and_what_came_or_went(self):
        same, _ = self.compared(lambda d: d["job"].update(revision=1), ["--letter"])
        self.assertIn("Nothing changed.", same.text())
        self.assertIn(b"612 x 792", tool("pdfinfo", same.pdf))
        other, _ = self.compared(lambda d: d["job"].update(reference="X" * 200))
        self.assertIn("The references differ", other.text())
        for page in range(1, other.pages + 1):
            self.assertLessEqual(max(w[3] for w in other.words(page)), 596)
        fewer, said = self.compared(lambda d: d["rooms"][0]["runs"].pop())
        self.assertIn("went", {f["change"] for f in said["facts"]})
        for page in range(1, fewer.pages + 1):
            self.assertEqual(overlapping(fewer.words(page)), [])

    def test_wrong_usage_and_files_that_cannot_be_used(self):
        to = Path(self.folder.name) / "x.pdf"
        broken = Path(self.folder.name) / "broken.levelrun.json"
        broken.write_text("{")
        for pair in ((self.old, broken), (broken, self.old)):
            self.assertEqual(run("compare", *pair, "-o", to).returncode, 2)
        self.assertEqual(run("compare", self.old, self.old, "--json", "-o", to).returncode, 2)
        self.assertEqual(run("compare", self.old, self.old, "--letter").returncode, 2)
        self.assertFalse(to.exists())
        nowhere = self.folder.name + "/no/x.pdf"
        self.assertEqual(run("compare", self.old, self.old, "-o", nowhere).returncode, 2)
        piped = run("compare", self.old, self.old, "--pdf", "-")
        self.assertTrue(piped.stdout.startswith(b"%PDF"))


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
