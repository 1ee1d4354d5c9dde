"""Second method: networks as free rigid bodies, in doubles.

    python3 multibody.py      compares networks.json and derivatives.json with it

Each body has a place and a quaternion, whatever holds it. Shafts, lines, mast, marks and links are equations between bodies
in space; the coordinates of networks.json are measured in the end. Shares nothing with mechanism.py. With more links than
freedoms the links' strains are made least, by Gauss's method, in the space that the other equations leave. Needs scipy 1.10.1.
"""

import copy
import json
import os
import sys
from multiprocessing import Pool
from pathlib import Path

os.environ["OMP_NUM_THREADS"] = "1"     # tables are small

import numpy as np
from scipy.linalg import lstsq, null_space

STEPS = 23
TOLERANCE = 1e-9        # mm, degree
SHIFT, ROUGH = 1e-3, 1e-5   # mm or degree, of differences for derivatives; their tolerance
TABLE = Path(__file__).with_name("networks.json")


def ebar(degrees):
    return np.array([np.sin(np.radians(degrees)), np.cos(np.radians(degrees)), 0])


Z = np.array([0.0, 0.0, 1.0])


def dot(v, w):
    return (v * w).sum(-1)


class Bodies:
    """Poses of all bodies, for many states at once: the last axis of state holds 7 numbers for each body."""

    def __init__(self, names, state):
        self.index = {name: i for i, name in enumerate(names)}
        each = state.reshape(*state.shape[:-1], len(names), 7)
        self.place, self.quaternion = each[..., :3], each[..., 3:]

    def turn(self, name, v):
        """A direction that is drawn on a body, in space: q v q*, times the square of q's length."""
        v = np.asarray(v, float)
        if name == "":
            return v
        q = self.quaternion[..., self.index[name], :]
        s, u = q[..., :1], q[..., 1:]
        return (s * s - dot(u, u)[..., None]) * v + 2 * dot(u, v)[..., None] * u + 2 * s * np.cross(u, v)

    def point(self, name, p):
        if name == "":
            return np.asarray(p, float)
        return self.place[..., self.index[name], :] + self.turn(name, p)


class System:
    def __init__(self, case):
        self.case = case
        self.names = [b["name"] for b in case["bodies"]]
        self.by_name = {b["name"]: b for b in case["bodies"]}
        self.frames = {}
        for b in case["bodies"]:
            if "axis" in b:
                u = np.array(b["axis"], float)
                u = u / np.linalg.norm(u)
                v = np.cross(u, np.eye(3)[np.abs(u).argmin()])
                v = v / np.linalg.norm(v)
                self.frames[b["name"]] = u, v, np.cross(u, v)
        self.over = "strain_mm" in case["solution"]
        self.weight = np.sqrt([link.get("stiffness", 1.0) for link in case["links"]])

    def start(self):
        return np.tile([0, 0, 0, 1.0, 0, 0, 0], len(self.names))

    def held(self, state, part):
        """What shafts, lines, mast, marks and inputs ask, nought when they have it."""
        at, rows = Bodies(self.names, state), []
        for name, b in self.by_name.items():
            rows.append(dot(at.quaternion[..., at.index[name], :], at.quaternion[..., at.index[name], :]) - 1)
            rows += getattr(self, b["kind"])(at, name, b, part)
        return np.stack(np.broadcast_arrays(*rows), -1)

    def crank(self, at, name, b, part):
        u, v, w = self.frames[name]
        apart = at.point(name, b["point_mm"]) - at.point(b["on"], b["point_mm"])
        rows = [apart[..., 0], apart[..., 1], apart[..., 2],
                dot(at.turn(name, u), at.turn(b["on"], v)), dot(at.turn(name, u), at.turn(b["on"], w))]
        if b["input"]:
            q = part * np.radians(self.case["inputs"][name])
            rows.append(dot(at.turn(name, v), at.turn(b["on"], np.cos(q) * w - np.sin(q) * v)))
        return rows

    def slider(self, at, name, b, part):
        u, v, w = self.frames[name]
        apart = at.point(name, b["point_mm"]) - at.point(b["on"], b["point_mm"])
        rows = [dot(at.turn(name, u), at.turn(b["on"], v)), dot(at.turn(name, u), at.turn(b["on"], w)),
                dot(at.turn(name, v), at.turn(b["on"], w)), dot(apart, at.turn(b["on"], v)), dot(apart, at.turn(b["on"], w))]
        if b["input"]:
            rows.append(dot(apart, at.turn(b["on"], u)) - part * self.case["inputs"][name])
        return rows

    def plate(self, at, name, b, part):
        centre = at.point(name, b["height_mm"] * Z)
        if b["mark_deg"] is None:           # the smallest turn is about a level axis
            return [centre[..., 0], centre[..., 1], at.quaternion[..., at.index[name], 3]]
        return [centre[..., 0], centre[..., 1], self.pin(at, name, b)]

    def pin(self, at, name, b):
        """How far the mark is out of its vertical plane."""
        return dot(at.turn(name, ebar(b["mark_deg"])), ebar(b["mark_deg"] + 90))

    def ring(self, at, name, b, part):
        drawn = self.by_name[b["on"]]["height_mm"] * Z
        apart = at.point(name, drawn) - at.point(b["on"], drawn)
        square = [dot(at.turn(name, Z), at.turn(b["on"], level)) for level in np.eye(3)[:2]]
        return [apart[..., 0], apart[..., 1], apart[..., 2], *square, self.pin(at, name, b)]

    def strains(self, state):
        at = Bodies(self.names, state)
        apart = [at.point(k["a"]["body"], k["a"]["at_mm"]) - at.point(k["b"]["body"], k["b"]["at_mm"]) for k in self.case["links"]]
        rows = [np.linalg.norm(v, axis=-1) - k["length_mm"] for v, k in zip(apart, self.case["links"])]
        return np.stack(np.broadcast_arrays(*rows), -1)

    def derivatives(self, f, state):
        """Central differences of fourth order, all at once."""
        h = np.tile([1e-2] * 3 + [3e-4] * 4, len(self.names))
        shifts = np.diag(h)
        value = f(state + np.stack([-2 * shifts, -shifts, shifts, 2 * shifts]))
        return ((value[0] - 8 * value[1] + 8 * value[2] - value[3]) / (12 * h[:, None])).T

    def step(self, state, part):
        """Newton's method; Gauss's for the strains of more links than freedoms."""
        smallest = np.inf
        for _ in range(80):
            held = lambda s: self.held(s, part)
            c, f = held(state), self.strains(state)
            dc, df = self.derivatives(held, state), self.derivatives(self.strains, state)
            if self.over:
                dx = lstsq(dc, -c)[0]
                free = null_space(dc)
                dx = dx + free @ lstsq(self.weight[:, None] * (df @ free), -self.weight * (f + df @ dx))[0]
            else:
                dx = np.linalg.solve(np.vstack([dc, df]), -np.concatenate([c, f]))
            state, size = state + dx, np.abs(dx).max()
            if size < 1e-11 and size > 0.3 * smallest:      # no longer falling: the last bits
                return state
            smallest = min(smallest, size)
        if smallest < 1e-11:
            return state
        raise RuntimeError(f"{self.case['name']}: not converged, {smallest:.1e}")

    def measure(self, state, before):
        """The coordinates by body; cranks' angles continue from those before."""
        at, found = Bodies(self.names, state), {}
        for name, b in self.by_name.items():
            if b["kind"] == "plate":
                found[name] = [at.point(name, b["height_mm"] * Z)[2], *at.turn(name, Z)[:2]]
            elif b["kind"] == "slider":
                apart = at.point(name, b["point_mm"]) - at.point(b["on"], b["point_mm"])
                found[name] = dot(apart, at.turn(b["on"], self.frames[name][0]))
            elif b["kind"] == "crank":
                _, v, w = self.frames[name]
                turned = at.turn(name, v)
                angle = np.degrees(np.arctan2(turned @ at.turn(b["on"], w), turned @ at.turn(b["on"], v)))
                last = before.get(name, 0.0)
                found[name] = last + (angle - last + 180) % 360 - 180
        return found

    def solve(self):
        """The coordinates by body, and the state."""
        state, found = self.start(), {}
        for k in range(STEPS + 1):
            state = self.step(state, k / STEPS)
            found = self.measure(state, found)
        return found, state


def apart(found, strains, want):
    """Largest difference of coordinates by body, and of strains, from what a file gives."""
    pairs = [(found[name], value) for name, value in want["coordinates"].items()] + [(list(strains), want.get("strain_mm", []))]
    each = lambda v: v if isinstance(v, list) else [v]
    return max(abs(g - float(w)) for got, value in pairs for g, w in zip(each(got), each(value)))


def difference(case):
    system = System(case)
    found, state = system.solve()
    return apart(found, system.strains(state), case["solution"])


def derivative_difference(case, row):
    """Largest difference between derivatives.json and central differences of the second method, over twice SHIFT, in proportion to
    the largest derivative by the same thing where that is above 1."""
    found, state = System(case).solve()

    def worst(part, key, want):
        ends = []
        for way in (1, -1):
            moved = copy.deepcopy(case)
            part(moved)[key] += way * SHIFT
            system = System(moved)
            at = system.step(state, 1.0)
            ends.append((system.measure(at, found), system.strains(at)))
        slope = lambda a, b: [slope(p, q) for p, q in zip(a, b)] if isinstance(a, list) else (a - b) / (2 * SHIFT)
        slopes = {name: slope(ends[0][0][name], ends[1][0][name]) for name in found}
        want = dict(want)
        strains = want.pop("strain_mm", [])
        size = max(abs(float(w)) for v in want.values() for w in (v if isinstance(v, list) else [v]))
        return apart(slopes, (ends[0][1] - ends[1][1]) / (2 * SHIFT), {"coordinates": want, "strain_mm": strains}) / max(1, size)

    link = lambda name: lambda c: next(k for k in c["links"] if k["name"] == name)
    return max([worst(lambda c: c["inputs"], name, want) for name, want in row["by_input"].items()]
               + [worst(link(name), "length_mm", want) for name, want in row["by_length"].items()]
               + [worst(lambda c: link(one["link"])(c)[one["end"]]["at_mm"], "xyz".index(one["axis"]), one["of"])
                  for one in row["by_place"]])


def group(name):
    return name.split(",")[0] if name.startswith("pattern") else name.rstrip("0123456789 ")


def main():
    groups, cases = {}, json.loads(TABLE.read_text())
    with Pool(2) as pool:
        for case, worst in zip(cases, pool.imap(difference, cases)):
            groups.setdefault(group(case["name"]), []).append((worst, case["name"]))
    for name, rows in groups.items():
        print(f"{name}: {len(rows)} cases, largest difference {max(rows)[0]:.1e} in {max(rows)[1]}")
    failed = max(worst for rows in groups.values() for worst, _ in rows) > TOLERANCE
    by_name = {case["name"]: case for case in cases}
    for row in json.loads(TABLE.with_name("derivatives.json").read_text()):
        worst = derivative_difference(by_name[row["name"]], row)
        print(f"derivatives, {row['name']}: largest difference {worst:.1e}")
        failed |= worst > ROUGH
    return failed


if __name__ == "__main__":
    sys.exit(main())
