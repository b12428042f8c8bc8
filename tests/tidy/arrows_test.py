#!/usr/bin/env python3
"""The arrows check finds each kind of wrong include; a check that finds nothing is none."""

import pathlib
import subprocess
import sys
import tempfile

CHECK = pathlib.Path(__file__).with_name("arrows.py")
PLANTED = {
    "common/geo/a.cpp": ("#include <QString>\n", "includes Qt"),
    "common/measure/b.h": ('#include "common/geo/outline.h"\n', "against the arrow"),
    "common/journal/c.h": ('#include "common/measure/measured.h"\n', "against the arrow"),
    "common/course/d.cpp": ('#include "server/store.h"\n', "leans on it"),
    "common/exchange/e.cpp": ("#include <boost/asio/ip/tcp.hpp>\n", "no socket"),
    "common/infill/f.cpp": ("auto now = std::chrono::system_clock::now();\n", "clock"),
    "server/g.cpp": ('#include "mobile/app/session.h"\n', "includes mobile"),
    "mobile/h.cpp": ('#include "server/store.h"\n', "includes the server"),
}

failures = 0
for name, (text, words) in PLANTED.items():
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, name)
        path.parent.mkdir(parents=True)
        path.write_text(text)
        run = subprocess.run([sys.executable, CHECK, folder], capture_output=True, text=True)
        if run.returncode != 1 or words not in run.stdout:
            print(f"not found: {words} in {name}:\n{run.stdout}")
            failures += 1
sys.exit(1 if failures else 0)
