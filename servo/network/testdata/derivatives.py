"""Derivatives of some networks of networks.json by inputs, link lengths and places of balls.

    python3 derivatives.py      writes derivatives.json beside this file

Central differences of solutions at 40 digits, in the units of the file. Needs mpmath 1.2.1 and numpy 1.24.2. See README.md.
"""

import copy
import json
from pathlib import Path

from mechanism import PRINTED, Network, in_degrees, mp, polish
from networks import TABLE, write

STEP = mp.mpf(10) ** -12
NAMES = ["pattern a, three direct legs, setting 3", "pattern b, four direct legs, setting 4",
         "pattern c, standing cranks push and pull four balls, setting 3",
         "pattern d, cranks riding on the collective lever, links from below, setting 3",
         "pattern f, push-pull pair through mixers, setting 5",
         "pattern h, washout, mixing arms and grips, blade at 217 degrees, setting 2",
         "pattern i, six-bar, Watt II, setting 2", "random 26", "random 44", "near a dead centre 2", "more links 8", "more links 13"]


def solution(case):
    """Coordinates by body, in the units of the file, and the strains of more links than freedoms."""
    net = Network(case, mp)
    at = {name: value if isinstance(value, list) else [value] for name, value in case["solution"]["coordinates"].items()}
    cranks = {b["name"] for b in net.bodies if b["kind"] == "crank"}
    start = [mp.mpf(at[name][i]) * (mp.pi / 180 if name in cranks else 1) for name, i in net.unknowns]
    x = polish(net, net.inputs(case), start)
    found = in_degrees(net, x)
    if not net.square():
        found["strain_mm"] = net.strains(net.inputs(case), x)
    return found


def derivative(case, part, key):
    """Of the solution, by the number that part(case) holds under a key."""
    ends = []
    for way in (1, -1):
        moved = copy.deepcopy(case)
        part(moved)[key] = mp.mpf(part(moved)[key]) + way * STEP
        ends.append(solution(moved))
    show = lambda v: mp.nstr(mp.chop(v, mp.mpf(10) ** -20), PRINTED)
    each = lambda a, b: [each(p, q) for p, q in zip(a, b)] if isinstance(a, list) else show((a - b) / (2 * STEP))
    return {name: each(ends[0][name], ends[1][name]) for name in ends[0]}


def derivatives(case):
    links = range(len(case["links"]))
    places = [(i, end, axis) for i in (0, len(links) // 2, len(links) - 1) for end in "ab" for axis in range(3)]
    return {
        "name": case["name"],
        "by_input": {name: derivative(case, lambda c: c["inputs"], name) for name in case["inputs"]},
        "by_length": {case["links"][i]["name"]: derivative(case, lambda c: c["links"][i], "length_mm") for i in links},
        "by_place": [{"link": case["links"][i]["name"], "end": end, "axis": "xyz"[axis],
                      **{"of": derivative(case, lambda c: c["links"][i][end]["at_mm"], axis)}} for i, end, axis in places],
    }


if __name__ == "__main__":
    cases = {case["name"]: case for case in json.loads(TABLE.read_text())}
    write(Path(__file__).with_suffix(".json"), [derivatives(cases[name]) for name in NAMES])
