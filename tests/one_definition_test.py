"""A type's name stands for one type only: two of one name in namespace levelrun, in different files,
are undefined behaviour that no compiler need report (one definition rule, C++20 [basic.def.odr]).

    one_definition_test.py ROOT
"""
import collections
import re
import sys
from pathlib import Path

root = Path(sys.argv[1])
where = collections.defaultdict(set)
for folder in ("app", "checks", "survey"):
    for file in sorted((root / folder).rglob("*")):
        if file.suffix not in (".h", ".cpp"):
            continue
        anonymous = False
        for line in file.read_text(encoding="utf-8").splitlines():
            if re.match(r"namespace \{", line):
                anonymous = True
            elif line == "}  // namespace":
                anonymous = False
            named = re.match(r"(?:struct|class|enum class) ([A-Z]\w+)(?: final)?(?: ?:(?!:)[^{;]*)? \{", line)
            if named and not anonymous:
                where[named.group(1)].add(str(file.relative_to(root)))
assert len(where) > 100, "nothing was read"
twice = {name: files for name, files in where.items() if len(files) > 1}
for name, files in twice.items():
    print(f"{name}: {', '.join(sorted(files))}")
sys.exit(bool(twice))
