#!/usr/bin/env python3
"""Changes one condition or constant of the journal or the exchange at a time, and sees whether
the tests notice. By hand: it takes some fifteen seconds a mutant.

    tests/mutation/mutate.py FOLDER --sample 120 --seed 1
    tests/mutation/mutate.py FOLDER --only common/journal/take.cpp:57

FOLDER gets a copy of the sources and a build of its own; the sources here are not touched.
Only what a mutant touches is built anew, then the tests of both rooms run, and some seeds of the
simulation. A mutant that no test kills is printed with its line. Results: MUTATION.md.
"""
import argparse
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys

ROOMS = ["common/journal", "common/exchange"]
BRIEF = ["--gtest_brief=1", "--gtest_fail_fast"]
# Each is built only when none before it noticed; the last one, with --programs: what only the
# programs use, backups, folders, files.
TESTS = [
    ("journal_test", ["build/tests/common/journal/journal_test", *BRIEF]),
    ("exchange_test", ["build/tests/common/exchange/exchange_test", *BRIEF]),
    ("simulation", ["build/tests/simulation/simulation", "--seeds", "1-150"]),
    ("server_tests", ["build/tests/server/server_tests", *BRIEF,
                      "--gtest_filter=Backup*:Commands*:Pairing*:Serve*:BadNetwork*"]),
]
# Nothing that is tested takes so long: a mutant that does hangs, which counts as noticed.
TIMEOUT_S = 240

OPERATORS = [
    (r" == ", " != "), (r" != ", " == "),
    (r" < ", " <= "), (r" <= ", " < "), (r" > ", " >= "), (r" >= ", " > "),
    (r" && ", " || "), (r" \|\| ", " && "),
    (r" \+ ", " - "), (r" - ", " + "), (r" \+= ", " -= "), (r" \* ", " / "),
    (r"\btrue\b", "false"), (r"\bfalse\b", "true"),
    (r"\bstd::min\b", "std::max"), (r"\bstd::max\b", "std::min"),
    (r"if \(!", "if ("), (r"\bcontinue;", "break;"), (r"\bbreak;", "continue;"),
]


def masked(text):
    """The text with comments, strings, preprocessor lines and assertions blanked, same length."""
    blank = lambda match: re.sub(r"[^\n]", "~", match.group(0))
    text = re.sub(r'R"\((?:.|\n)*?\)"', blank, text)
    text = re.sub(r'//[^\n]*|/\*(?:.|\n)*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'', blank, text)
    text = re.sub(r"(?m)^#(?:[^\n]*\\\n)*[^\n]*", blank, text)
    return re.sub(r"(?:static_)?assert\([^;]*;", blank, text)


def closing(text, opening):
    depth = 0
    for at in range(opening, len(text)):
        depth += {"(": 1, ")": -1}.get(text[at], 0)
        if depth == 0:
            return at
    return None


def mutants_of(path, text):
    """(path, start, end, replacement) of everything that can be changed."""
    visible = masked(text)
    found = []
    for pattern, replacement in OPERATORS:
        for match in re.finditer(pattern, visible):
            found.append((path, match.start(), match.end(), replacement))
    for match in re.finditer(r"(?<![\w.'\"<])\d[\d']*(?![\w.'])", visible):
        changed = str(int(match.group(0).replace("'", "")) + 1)
        found.append((path, match.start(), match.end(), changed))
    for match in re.finditer(r"\b(?:if|while) \(", visible):
        end = closing(visible, match.end() - 1)
        inside = text[match.end():end] if end else ""
        # A condition that declares something, or begins with "!", has mutants of its own.
        if end and ";" not in inside and " = " not in inside and not inside.startswith("!"):
            found.append((path, match.end(), end, f"!({inside})"))
    return found


def run(command, folder, timeout):
    environment = dict(os.environ, CCACHE_BASEDIR=str(folder))
    # Syncs to a disk would cost most of the time.
    if pathlib.Path("/dev/shm").is_dir():
        environment["TMPDIR"] = "/dev/shm"
    try:
        done = subprocess.run(command, cwd=folder, env=environment, stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, timeout=timeout, text=True, errors="replace")
        return done.returncode, done.stdout
    except subprocess.TimeoutExpired:
        return -1, "timeout"


def prepare(source, folder, tests):
    names = subprocess.run(["git", "ls-files"], cwd=source, check=True, capture_output=True,
                           text=True).stdout.split("\n")
    for name in filter(None, names):
        to = folder / name
        if (source / name).is_file() and (not to.exists() or to.read_bytes() != (source / name).read_bytes()):
            to.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(source / name, to)
    configure = ["cmake", "-S", ".", "-B", "build", "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Debug",
                 "-DCMAKE_CXX_FLAGS_DEBUG=-O1", "-DSWARDWALK_MOBILE=OFF", "-DSWARDWALK_PRECOMPILE=ON"]
    build = ["ninja", "-C", "build", *[target for target, _ in tests]]
    for command in [configure, build, *[command for _, command in tests]]:
        status, output = run(command, folder, 3600)
        if status != 0:
            sys.exit(f"{' '.join(command)} fails without any mutant:\n{output[-3000:]}")


def judged(folder, mutant, tests):
    """"killed by …", "survived" or "does not compile"."""
    path, start, end, replacement = mutant
    file = folder / path
    text = file.read_text()
    try:
        file.write_text(text[:start] + replacement + text[end:])
        for target, command in tests:
            status, _ = run(["ninja", "-C", "build", target], folder, 1200)
            if status != 0:
                return "does not compile"
            status, output = run(command, folder, TIMEOUT_S)
            if status != 0:
                named = re.search(r"\[  FAILED  \] (\S+)", output)
                return "killed by " + (named.group(1) if named else pathlib.Path(command[0]).name)
        return "survived"
    finally:
        file.write_text(text)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--sample", type=int, default=120)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="FILE or FILE:LINE, all of its mutants")
    parser.add_argument("--programs", action="store_true", help="run server tests, too")
    arguments = parser.parse_args()
    tests = TESTS if arguments.programs else TESTS[:-1]
    source = pathlib.Path(__file__).resolve().parents[2]
    folder = arguments.folder.resolve()

    every = []
    for room in ROOMS:
        for file in sorted((source / room).glob("*.cpp")):
            path = str(file.relative_to(source))
            every += mutants_of(path, file.read_text())
    every.sort()
    lines = {path: (source / path).read_text() for path, *_ in every}
    line_of = lambda mutant: lines[mutant[0]].count("\n", 0, mutant[1]) + 1
    if arguments.only:
        name, _, line = arguments.only.partition(":")
        chosen = [m for m in every if m[0] == name and (not line or line_of(m) == int(line))]
    else:
        chosen = random.Random(arguments.seed).sample(every, min(arguments.sample, len(every)))

    print(f"{len(every)} mutants in all, {len(chosen)} of them tried", flush=True)
    prepare(source, folder, tests)
    counts = {"killed": 0, "survived": 0, "does not compile": 0}
    for number, mutant in enumerate(chosen, 1):
        path, start, end, replacement = mutant
        verdict = judged(folder, mutant, tests)
        counts["killed" if verdict.startswith("killed") else verdict] += 1
        was = " ".join(lines[path][start:end].split())
        print(f"{number:4} {path}:{line_of(mutant)}  {was} -> {' '.join(replacement.split())}:"
              f"  {verdict}", flush=True)
        if verdict == "survived":
            print("       " + lines[path].split("\n")[line_of(mutant) - 1].strip(), flush=True)
    compiled = counts["killed"] + counts["survived"]
    share = 100 * counts["killed"] / compiled if compiled else 0
    print(f"{counts['killed']} of {compiled} killed, {share:.1f} %; "
          f"{counts['does not compile']} more did not compile")


if __name__ == "__main__":
    main()
