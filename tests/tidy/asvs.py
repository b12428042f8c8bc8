#!/usr/bin/env python3
"""server/ASVS.md names every requirement of level 2, and only tests that exist.

Usage: asvs.py ROOT. The numbers are those of OWASP ASVS 4.0.3 with a mark in its column of level 2.
"""
import pathlib
import re
import sys

# section: its last number of level 2; the numbers that it does not have, or not there.
SECTIONS = {
    "2.1": (12, ()), "2.2": (3, ()), "2.3": (3, ()), "2.4": (6, ()), "2.5": (7, ()),
    "2.6": (3, ()), "2.7": (6, ()), "2.8": (7, ()), "2.9": (3, ()), "2.10": (4, ()),
    "3.1": (1, ()), "3.2": (4, ()), "3.3": (4, ()), "3.4": (5, ()), "3.5": (3, ()), "3.7": (1, ()),
    "4.1": (5, (4,)), "4.2": (2, ()), "4.3": (3, ()),
    "5.1": (5, ()), "5.2": (8, ()), "5.3": (10, ()), "5.4": (3, ()), "5.5": (4, ()),
    "7.1": (4, ()), "7.2": (2, ()), "7.3": (4, (2,)), "7.4": (3, ()),
    "9.1": (3, ()), "9.2": (4, ()),
}


def wanted():
    return {f"{section}.{number}" for section, (last, without) in SECTIONS.items()
            for number in range(1, last + 1) if number not in without}


def numbers_in(cell):
    """'2.5.1 to 2.5.3' and '2.4.1, 2.4.2', each number by itself."""
    found = []
    for part in cell.split(","):
        ends = re.findall(r"(\d+\.\d+)\.(\d+)", part)
        if len(ends) == 2 and " to " in part:
            found += [f"{ends[0][0]}.{n}" for n in range(int(ends[0][1]), int(ends[1][1]) + 1)]
        else:
            found += [f"{section}.{number}" for section, number in ends]
    return found


def tests_in(root):
    tests = set()
    for source in (root / "tests").rglob("*_test.cpp"):
        tests |= {f"{suite}.{name}" for suite, name in re.findall(
            r"^TEST(?:_F|_P)?\(\s*(\w+),\s*(\w+)\)", source.read_text(), re.MULTILINE)}
    for listing in (root / "tests").rglob("CMakeLists.txt"):
        tests |= set(re.findall(r"add_test\(NAME ([\w.]+)", listing.read_text()))
    return tests


def troubles(table, tests):
    found, named = [], []
    for line in table.splitlines():
        cells = [cell.strip() for cell in line.split("|")]
        if len(cells) < 5 or not re.match(r"\d", cells[1]):
            continue
        named += numbers_in(cells[1])
        for test in re.findall(r"`(\w+\.\w+)`", cells[3]):
            if test not in tests:
                found.append(f"{cells[1]}: there is no test {test}")
        if not cells[2]:
            found.append(f"{cells[1]}: says nothing")
    found += [f"{number} is missing" for number in sorted(wanted() - set(named))]
    found += [f"{number} is none of level 2" for number in sorted(set(named) - wanted())]
    found += [f"{number} stands twice" for number in sorted({n for n in named if named.count(n) > 1})]
    return found


def main():
    root = pathlib.Path(sys.argv[1])
    table = (root / "server/ASVS.md").read_text()
    found = troubles(table, tests_in(root))
    # What it would find, where there was something.
    planted = table.replace("| 9.1.3 |", "| 9.1.9 |").replace("`Routes.WhoMayUseWhat`", "`Routes.Who`")
    if len(troubles(planted, tests_in(root))) < len(found) + 4:
        found.append("asvs.py does not see planted mistakes")
    for trouble in found:
        print(f"server/ASVS.md: {trouble}", file=sys.stderr)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
