"""Reference table of networks of bodies and links: inputs -> coordinates.

    python3 networks.py      writes networks.json beside this file

Needs mpmath 1.2.1 and numpy 1.24.2. See README.md.
"""

import json
import os
import random
import sys
import time
from multiprocessing import Pool
from pathlib import Path

os.environ["OMP_NUM_THREADS"] = "1"     # tables are small
import draw
import patterns
import published
from mechanism import solved

SEED = 20251125
TABLE = Path(__file__).with_suffix(".json")
DRAWN = [(group, i) for group, count in ((draw.away, 130), (draw.close, 30), (draw.over, 40)) for i in range(1, count + 1)]


def drawn(which):
    make, i = which
    start = time.time()
    case = make(random.Random(f"{SEED} {make.__name__} {i}"), i)
    print(case["name"], f"{time.time() - start:.1f} s", file=sys.stderr, flush=True)
    return case


def pattern(case):
    return solved(case)[0]


def generate():
    with Pool(2) as pool:
        return pool.map(pattern, patterns.all_patterns() + published.all_published(), 4) + pool.map(drawn, DRAWN, 1)


def write(path, rows):
    path.write_text("[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n")


if __name__ == "__main__":
    write(TABLE, generate())
