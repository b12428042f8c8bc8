#!/usr/bin/env python3
"""Writes a copy of one source with one mistake in it: plant.py NAME ROOT OUT.

Each mistake is one that somebody could make, and the simulation has to find it. A text
that no longer stands in its source, or stands there twice, is an error: then the mistake
has to be made anew."""

import pathlib
import sys

# name -> (source, what stands there, what is planted)
MISTAKES = {
    # Runs are said to be held although they are not on disk.
    "early_acknowledgement": (
        "common/exchange/answer.cpp",
        "if (!taken) return tl::unexpected(taken.error());\n\n  Answer answer;",
        "if (!taken) {\n    taken = Taken{};\n"
        "    for (const journal::Run& run : question.runs) taken->held.push_back(endOf(run));\n"
        "  }\n\n  Answer answer;",
    ),
    # What the peer turned out to lack is never sent.
    "forgotten_retry": (
        "common/exchange/asker.cpp",
        "} else if (hello.heads) {\n    peerHeads_ = hello.heads;",
        "} else if (hello.heads && !peerHeads_) {\n    peerHeads_ = hello.heads;",
    ),
    # The branch that came first stands for both.
    "fork_overwrites": (
        "common/journal/take.cpp",
        "outcome.forked = !origin.chains.empty();",
        "outcome.forked = !origin.chains.empty();\n"
        "      if (outcome.forked) return {TakeStatus::known, 0, false};",
    ),
    # A row number, which depends on the order of arrival, gets into the state.
    "fold_by_arrival": (
        "common/course/course_fold.cpp",
        "} else {\n      living_.bind(5);",
        "} else {\n      living_.bind(5, id);",
    ),
    # Commits are not synced.
    "lost_sync": (
        "common/journal/open.cpp",
        '"PRAGMA synchronous = FULL"',
        '"PRAGMA synchronous = NORMAL"',
    ),
    # What a killed program left unsynced is passed on.
    "unsynced_rest": (
        "common/journal/open.cpp",
        "  syncWhatWasLeft(store.database());\n",
        "  static_cast<void>(syncWhatWasLeft);\n",
    ),
    # Anybody may write in another's name.
    "unchecked_signature": (
        "common/journal/take.cpp",
        "if (!headVerifies(",
        "if (false && !headVerifies(",
    ),
    # What somebody wants erased comes back with whoever still has it.
    "forgotten_erasure": (
        "common/journal/take.cpp",
        "if (store.picture().erasures.contains(",
        "if (false && store.picture().erasures.contains(",
    ),
    # A restored device writes on under its old key.
    "kept_key": (
        "common/exchange/memory.cpp",
        "return own > 1 || journal.note(forkedOrigin) == journal::hex(journal.origin());",
        "return own > 99;",
    ),
}


def main():
    name, root, out = sys.argv[1:]
    source, before, after = MISTAKES[name]
    text = (pathlib.Path(root) / source).read_text()
    if text.count(before) != 1:
        sys.exit(f"{source}: {text.count(before)} places for the mistake {name}, not one")
    pathlib.Path(out).write_text(text.replace(before, after))


main()
