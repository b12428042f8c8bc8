#!/usr/bin/env python3
"""Holds the arrows of the house: who may include whom. Names each line that breaks one."""

import pathlib
import re
import sys

ROOT = pathlib.Path(sys.argv[1])

# room -> rooms that it may lean on, itself left out
ROOMS = {
    "measure": set(),
    "geo": {"measure"},
    "turf": {"measure"},
    "journal": set(),
    "exchange": {"journal"},
    "infill": {"geo", "turf", "measure"},
    "repair": {"infill", "geo", "turf", "measure"},
    "course": {"journal", "geo", "turf", "measure"},
    "answers": {"course", "infill", "repair", "journal", "geo", "turf", "measure"},
    "interchange": {"answers", "course", "infill", "repair", "journal", "geo", "turf", "measure"},
}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')
SOCKETS = re.compile(r"^(sys/socket|netinet/|arpa/|netdb|boost/asio|boost/beast)")
CLOCKS = re.compile(r"(system_clock|steady_clock)::now|\bgettimeofday\b|[^\w]time\((nullptr|NULL|0)\)")

wrong = []


def look(path):
    parts = path.relative_to(ROOT).parts
    part = parts[0]
    room = parts[1] if part == "common" and len(parts) > 2 else None
    if room is not None and room not in ROOMS:
        wrong.append(f"{path}: common has no room '{room}'")
        return
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        where = f"{path.relative_to(ROOT)}:{number}"
        if part == "common" and CLOCKS.search(line):
            wrong.append(f"{where}: nothing under common reads the clock: {line.strip()}")
        found = INCLUDE.match(line)
        if not found:
            continue
        bracket, target = found.groups()
        if part in ("common", "server") and re.match(r"^Q[A-Z]|^Qt", target):
            wrong.append(f"{where}: {part} includes Qt: {target}")
        if part == "common" and SOCKETS.match(target):
            wrong.append(f"{where}: common opens no socket: {target}")
        if part == "mobile" and target.startswith("server/"):
            wrong.append(f"{where}: mobile includes the server: {target}")
        if part == "server" and target.startswith("mobile/"):
            wrong.append(f"{where}: the server includes mobile: {target}")
        if part == "common" and target.startswith(("server/", "mobile/", "sample-course/", "tests/")):
            wrong.append(f"{where}: common includes what leans on it: {target}")
        if room and target.startswith("common/"):
            other = target.split("/")[1]
            if other in ROOMS and other != room and other not in ROOMS[room]:
                wrong.append(f"{where}: against the arrow, {room} includes {other}: {target}")


files = 0
for folder in ("common", "server", "mobile", "sample-course"):
    for path in sorted((ROOT / folder).rglob("*")):
        if path.suffix in (".h", ".cpp"):
            files += 1
            look(path)
if files == 0:
    wrong.append(f"{ROOT}: no sources found")
for line in wrong:
    print(line)
print(f"{files} files looked at, {len(wrong)} wrong")
sys.exit(1 if wrong else 0)
