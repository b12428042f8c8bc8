#!/usr/bin/env python3
"""Compares areas on the plane and overlaps of seeded pairs of outlines with GDAL's: the pairs
are drawn here, measured by ours and, in SQL, by ogrinfo, a program of its own. GDAL leaves
intersections to GEOS, as we do, so this shows that we ask and add up rightly; that the
intersections themselves are right is shown by overlap_by_boost_test.cpp."""

import csv
import math
import os
import random
import re
import subprocess
import sys
import tempfile

PAIRS = 60
# Both round where edges cross: to some 1e-12 m on metres, times a few metres of edge.
TOLERANCE_M2 = 1e-9
TOLERANCE_SHARE = 1e-8


def outline(draw):
    """A blot of 5 to 40 points at uneven distances from its middle, 0.1 to 60 m2."""
    east, north, size = 3 * draw.random(), 3 * draw.random(), 0.5 + 4 * draw.random()
    points = draw.randint(5, 40)
    ring = []
    for i in range(points):
        angle = 2 * math.pi * (i + 0.8 * draw.random()) / points
        radius = size * (0.3 + 0.7 * draw.random())
        ring.append((east + radius * math.cos(angle), north + radius * math.sin(angle)))
    return ring


def wkt(ring):
    return "POLYGON((" + ",".join(f"{x!r} {y!r}" for x, y in ring + ring[:1]) + "))"


def gdal(pairs, folder):
    """Both areas and the shared one of each pair, by SQL."""
    source = os.path.join(folder, "pairs.csv")
    with open(source, "w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(["number", "a", "b"])
        rows.writerows((i, wkt(a), wkt(b)) for i, (a, b) in enumerate(pairs))
    # Whole digits come out of SQL only as text.
    columns = ", ".join(
        f"printf('%.15g', {what}) AS {name}" for name, what in (
            ("area_a", "ST_Area(ST_GeomFromText(a))"),
            ("area_b", "ST_Area(ST_GeomFromText(b))"),
            ("shared", "coalesce(ST_Area(ST_Intersection(ST_GeomFromText(a), "
                       "ST_GeomFromText(b))), 0)")))
    shown = subprocess.run(
        ["ogrinfo", "-q", "-dialect", "SQLite", "-sql",
         f"SELECT {columns} FROM pairs ORDER BY CAST(number AS INTEGER)", source],
        check=True, capture_output=True, text=True).stdout
    found = [[float(value) for value in re.findall(rf"{name} \(String\) = (\S+)", shown)]
             for name in ("area_a", "area_b", "shared")]
    if any(len(values) != len(pairs) for values in found):
        sys.exit(f"not an answer for each pair in what ogrinfo says: {shown[:500]}")
    return list(zip(*found))


def ours(pairs, program):
    lines = "".join(
        " ".join(f"{len(ring)} " + " ".join(f"{x!r} {y!r}" for x, y in ring) for ring in pair) + "\n"
        for pair in pairs)
    said = subprocess.run([program], input=lines, check=True, capture_output=True, text=True).stdout
    return [tuple(map(float, line.split())) for line in said.splitlines()]


def main():
    draw = random.Random(20270415)
    pairs = [(outline(draw), outline(draw)) for _ in range(PAIRS)]
    with tempfile.TemporaryDirectory() as folder:
        theirs = gdal(pairs, folder)
    measured = ours(pairs, sys.argv[1])
    if len(measured) != PAIRS:
        sys.exit(f"{len(measured)} of {PAIRS} pairs measured")
    furthest_m2 = furthest_share = 0.0
    overlapping = 0
    for mine, other in zip(measured, theirs):
        furthest_m2 = max([furthest_m2] + [abs(a - b) for a, b in zip(mine, other)])
        shares = [shared / min(a, b) for a, b, shared in (mine, other)]
        furthest_share = max(furthest_share, abs(shares[0] - shares[1]))
        overlapping += 0.02 < shares[1] < 0.98
    print(f"{PAIRS} pairs, {overlapping} lie partly over each other; furthest apart: "
          f"{furthest_m2:.1e} m2, share {furthest_share:.1e}")
    if furthest_m2 > TOLERANCE_M2 or furthest_share > TOLERANCE_SHARE:
        sys.exit("ours and GDAL's differ")
    if overlapping < PAIRS // 2:
        sys.exit("too few pairs overlap for this to show anything")


if __name__ == "__main__":
    main()
