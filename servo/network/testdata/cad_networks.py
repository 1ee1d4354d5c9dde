"""Third method: networks solved by a drawing program's constraint solver, which is told distances, planes and lines only.

    python3 cad_networks.py      compares networks.json with it

Needs libslvs 3.1 (Debian: libslvs1), reached by ctypes as in testdata/cad.py. A body is a few points that keep their distances.
A crank shares two points of its shaft with the body that carries it, a rotating ring the plate's centre and a point straight
above it. Every point of a slider keeps to a line, in two planes or through two points of the body that carries it. Marks are points in a
vertical plane. Left out are plates without a mark, which these leave free to turn, and more links than freedoms.
"""

import ctypes
import itertools
import json
import math
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[3] / "testdata"))
import cad
import heads

STEPS = 40
TOLERANCE = 1e-9        # mm, degree
K = 30.0                # between the points that hold a body, mm
TABLE = Path(__file__).with_name("networks.json")
LINE_SEGMENT, PT_ON_LINE = 80001, 100006


class Drawing(cad.Drawing):
    def in_plane(self, point, origin, u, v):
        """Hold a point in the fixed plane through origin that u and v span."""
        quaternion = [ctypes.c_double() for _ in range(4)]
        cad.slvs.Slvs_MakeQuaternion(*map(ctypes.c_double, [*u, *v]), *map(ctypes.byref, quaternion))
        square = self.entity(cad.NORMAL_IN_3D, cad.FIXED, [q.value for q in quaternion])
        plane = self.entity(cad.WORKPLANE, cad.FIXED, point=(ctypes.c_uint32 * 4)(self.fixed(origin)), normal=square)
        self.constrain(cad.PT_IN_PLANE, ptA=point, entity=(ctypes.c_uint32 * 4)(plane))

    def on_line(self, point, a, b):
        line = self.entity(LINE_SEGMENT, cad.FIXED, point=(ctypes.c_uint32 * 4)(a, b))
        self.constrain(PT_ON_LINE, ptA=point, entity=(ctypes.c_uint32 * 4)(line))


class Frame:
    """The fixed frame: its points do not move."""

    def __init__(self, drawing):
        self.drawing = drawing

    def point(self, at):
        return self.drawing.fixed(at)

    def turn(self):
        return np.eye(3)


class Body:
    """Points that keep their distances from four of them, of which the first has the others around it."""

    def __init__(self, drawing, handles):
        self.drawing, self.handles = drawing, handles
        self.drawn = np.array([drawing.at(h) for h in handles])
        self.points = {}

    def point(self, at):
        """A point of the body, by its distances from the three of the four that hold it best."""
        at = np.asarray(at, float)
        for handle, drawn in zip(self.handles, self.drawn):
            if np.linalg.norm(drawn - at) < 1e-9:
                return handle
        if tuple(at) not in self.points:
            def hold(three):
                ways = at - self.drawn[list(three)]
                return abs(np.linalg.det(ways / np.linalg.norm(ways, axis=1)[:, None]))
            three = max(itertools.combinations(range(4), 3), key=hold)
            self.points[tuple(at)] = self.drawing.body(at, *(self.handles[i] for i in three))
        return self.points[tuple(at)]

    def turn(self):
        """The body's rotation from neutral."""
        now = np.array([self.drawing.at(h) for h in self.handles])
        return np.linalg.solve(self.drawn[1:] - self.drawn[0], now[1:] - now[0]).T


def basis(axis):
    u = np.array(axis, float)
    u = u / np.linalg.norm(u)
    v = np.cross(u, np.eye(3)[np.abs(u).argmin()])
    v = v / np.linalg.norm(v)
    return u, v, np.cross(u, v)


class Machine:
    def __init__(self, case):
        self.case, self.drawing = case, Drawing()
        self.bodies = {"": Frame(self.drawing)}
        self.inputs = []                            # pairs of a distance and what it is at a part of the inputs
        for b in case["bodies"]:
            self.bodies[b["name"]] = Body(self.drawing, getattr(self, b["kind"])(b))
        for k in case["links"]:
            ends = [self.bodies[k[end]["body"]].point(k[end]["at_mm"]) for end in "ab"]
            self.drawing.distance(*ends, k["length_mm"])

    def crank(self, b):
        at, (u, v, w), on = np.array(b["point_mm"], float), basis(b["axis"]), self.bodies[b["on"]]
        shaft, end = on.point(at), on.point(at + K * u)
        third = self.drawing.body(at + K * v, shaft, end)
        if b["input"]:      # a chord from a point of the carrier: a right angle in the middle of the input's way
            q = math.radians(self.case["inputs"][b["name"]])
            first = math.pi / 2 - q / 2
            chord = self.drawing.distance(third, on.point(at + K * (math.cos(first) * v - math.sin(first) * w)), 0)
            self.inputs.append((chord, lambda part: 2 * K * math.sin((first + part * q) / 2)))
        return [shaft, end, third, self.drawing.body(at + K * w, shaft, end, third)]

    def slider(self, b):
        at, (u, v, w), on = np.array(b["point_mm"], float), basis(b["axis"]), self.bodies[b["on"]]
        handles = []
        for place in (at, at + K * u, at + K * (u + v), at + K * (u + w)):     # each a way on from the first: so it moves as far
            handles.append(self.drawing.body(place, *handles[:1]))
            if b["on"] == "":
                self.drawing.in_plane(handles[-1], place, u, v)
                self.drawing.in_plane(handles[-1], place, u, w)
            else:
                self.drawing.on_line(handles[-1], on.point(place - 2 * K * u), on.point(place - K * u))
        if b["input"]:
            s = self.case["inputs"][b["name"]]
            way = self.drawing.distance(handles[0], on.point(at - K * u), 0)
            self.inputs.append((way, lambda part: K + part * s))
        return handles

    def plate(self, b):
        centre = self.drawing.body(b["height_mm"] * cad.Z)
        self.drawing.in_plane_of(0, centre)
        self.drawing.in_plane_of(math.radians(90), centre)
        top = self.drawing.body((b["height_mm"] + K) * cad.Z, centre)
        return self.marked(centre, top, b)

    def ring(self, b):
        return self.marked(*self.bodies[b["on"]].handles[:2], b)

    def marked(self, centre, top, b):
        mark, at = math.radians(b["mark_deg"]), self.drawing.at(centre)
        pin = self.drawing.body(at + K * cad.e(mark), centre, top)
        self.drawing.in_plane_of(mark, pin)
        return [centre, top, pin, self.drawing.body(at + K * cad.e(mark + math.pi / 2), centre, top, pin)]

    def solve(self):
        found = {}
        for step in [*range(STEPS + 1), STEPS, STEPS]:  # twice more in the end: the solver stops at 1e-8 mm
            for distance, length in self.inputs:
                distance.valA = length(min(step / STEPS, 1))
            self.drawing.solve()
            found = self.measure(found)
        return found

    def measure(self, before):
        found = {}
        for b in self.case["bodies"]:
            body = self.bodies[b["name"]]
            if b["kind"] == "plate":
                found[b["name"]] = [self.drawing.at(body.handles[0])[2], *body.turn()[:2, 2]]
            elif b["kind"] != "ring":
                u, v, w = basis(b["axis"])
                on = self.bodies[b["on"]]
                if b["kind"] == "crank":
                    v_now = on.turn().T @ body.turn() @ v
                    last = before.get(b["name"], 0.0)
                    found[b["name"]] = last + (math.degrees(math.atan2(v_now @ w, v_now @ v)) - last + 180) % 360 - 180
                else:
                    at = np.array(b["point_mm"], float)
                    carried = at if b["on"] == "" else self.drawing.at(on.handles[0]) + on.turn() @ (at - on.drawn[0])
                    found[b["name"]] = (self.drawing.at(body.handles[0]) - carried) @ (on.turn() @ u)
        return found


def sayable(case):
    return "strain_mm" not in case["solution"] and all(b.get("mark_deg", 0) is not None for b in case["bodies"])


def difference(case):
    found, worst = Machine(case).solve(), 0.0
    for name, want in case["solution"]["coordinates"].items():
        got, want = (found[name], want) if isinstance(want, list) else ([found[name]], [want])
        worst = max(worst, *(abs(g - float(w)) for g, w in zip(got, want, strict=True)))
    return worst


def main():
    groups, silent = {}, []
    for case in json.loads(TABLE.read_text()):
        if not sayable(case):
            continue
        name = case["name"].split(",")[0] if case["name"].startswith("pattern") else case["name"].rstrip("0123456789 ")
        try:
            groups.setdefault(name, []).append((difference(case), case["name"]))
        except heads.Rejected as err:
            silent.append(f"{case['name']}: {err}")
    for name, rows in groups.items():
        print(f"{name}: {len(rows)} cases, largest difference {max(rows)[0]:.1e} in {max(rows)[1]}")
    print(f"{len(silent)} not solved", *silent, sep="\n")
    return max(worst for rows in groups.values() for worst, _ in rows) > TOLERANCE


if __name__ == "__main__":
    sys.exit(main())
