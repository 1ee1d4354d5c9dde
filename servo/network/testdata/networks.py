"""Reference table of networks of bodies and links: inputs -> coordinates.

    python3 networks.py                   writes networks.json beside this file

Needs mpmath 1.2.1 and numpy 1.24.2. See README.md.
"""

import json
import random
import sys
import time
from pathlib import Path

import draw
import patterns
import published
from mechanism import solved

SEED = 20251125
TABLE = Path(__file__).with_suffix(".json")
COUNTS = ((draw.away, 130), (draw.close, 30), (draw.over, 40))


def generate():
    cases = [solved(case)[0] for case in patterns.all_patterns() + published.all_published()]
    for make, count in COUNTS:
        rng = random.Random(SEED)
        for i in range(1, count + 1):
            start = time.time()
            cases.append(make(rng, i))
            print(cases[-1]["name"], f"{time.time() - start:.1f} s", file=sys.stderr)
    return cases


def write(path, rows):
    path.write_text("[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n")


if __name__ == "__main__":
    write(TABLE, generate())
