#!/usr/bin/env python3
"""The top of the repository holds what README.md shows, and no keys or journals of a trial.

Usage: top_level.py ROOT. Ends with 77 where there is no repository to ask.
"""
import subprocess
import sys

TOP = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE",
       "common", "mobile", "sample-course", "server", "tests"}
RECORDS = (".key", ".sqlite", "shed.log")

listed = subprocess.run(["git", "-C", sys.argv[1], "ls-files"], capture_output=True, text=True)
if listed.returncode != 0:
    sys.exit(77)
wrong = []
for path in listed.stdout.splitlines():
    top = path.split("/")[0]
    if top not in TOP and not top.startswith("."):
        wrong.append(f"{path}: {top} does not belong at the top")
    elif path.endswith(RECORDS) and not path.startswith("tests/"):
        wrong.append(f"{path}: records of a trial are kept by tests only")
print("\n".join(wrong))
sys.exit(1 if wrong else 0)
