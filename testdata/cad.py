"""Rotor heads solved by a drawing program's constraint solver, which is told distances and planes, and no formula.

    python3 cad.py            writes cad.json beside this file
    python3 cad.py --check    solves its machines by heads.py too, at 40 digits, and compares

Needs libslvs 3.1 (Debian: libslvs1), reached by ctypes, and mpmath 1.2.1 for heads.py, which draws the machines.
The answers are the solver's alone. Plate, ring and blade are rigid bodies: each is a few points that keep the distances
they have in the drawing of neutral. Plate and ring share the centre, on the mast, and a point straight above it: so the
ring is coaxial with the plate. The guide's pin and the ring's driver are points in a vertical plane through the mast.
The arms go from 0 to their final angle in STEPS equal steps, each solved from the one before.
"""

import ctypes
import json
import math
import random
import sys
from ctypes import POINTER, c_double, c_int, c_uint32
from pathlib import Path

import numpy as np

import heads

SEED = 20240607
STEPS = 40       # from neutral to the final arm angles
DECIMALS = 11    # written
TOLERANCE = 1e-11   # of the check, mm or degree
K = 30.0         # from the centre to the points that hold a body square, mm
TABLE = Path(__file__).with_suffix(".json")


# What slvs.h declares.

class Param(ctypes.Structure):
    _fields_ = [("h", c_uint32), ("group", c_uint32), ("val", c_double)]


class Entity(ctypes.Structure):
    _fields_ = [("h", c_uint32), ("group", c_uint32), ("type", c_int), ("wrkpl", c_uint32), ("point", c_uint32 * 4),
                ("normal", c_uint32), ("distance", c_uint32), ("param", c_uint32 * 4)]


class Constraint(ctypes.Structure):
    _fields_ = [("h", c_uint32), ("group", c_uint32), ("type", c_int), ("wrkpl", c_uint32), ("valA", c_double),
                ("ptA", c_uint32), ("ptB", c_uint32), ("entity", c_uint32 * 4), ("other", c_int), ("other2", c_int)]


class System(ctypes.Structure):
    _fields_ = [("param", POINTER(Param)), ("params", c_int), ("entity", POINTER(Entity)), ("entities", c_int),
                ("constraint", POINTER(Constraint)), ("constraints", c_int), ("dragged", c_uint32 * 4),
                ("calculateFaileds", c_int), ("failed", POINTER(c_uint32)), ("faileds", c_int), ("dof", c_int),
                ("result", c_int)]


POINT_IN_3D, NORMAL_IN_3D, WORKPLANE = 50000, 60000, 80000
PT_PT_DISTANCE, PT_IN_PLANE = 100001, 100005
FIXED, SOLVED = 1, 2    # groups: the solver moves the points of the second
slvs = ctypes.CDLL("libslvs.so.1")


def e(bearing):
    return np.array([math.sin(bearing), math.cos(bearing), 0.0])


Z = np.array([0.0, 0.0, 1.0])


class Drawing:
    """Points, each named by its number, and what they must keep."""

    def __init__(self):
        self.params, self.entities, self.constraints = [], [], []
        self.origin = self.fixed([0, 0, 0])

    def entity(self, kind, group, numbers=(), **parts):
        for number in numbers:
            self.params.append(Param(len(self.params) + 1, group, number))
        handles = range(len(self.params) - len(numbers) + 1, len(self.params) + 1)
        self.entities.append(Entity(len(self.entities) + 1, group, kind, param=(c_uint32 * 4)(*handles), **parts))
        return len(self.entities)

    def fixed(self, at):
        return self.entity(POINT_IN_3D, FIXED, at)

    def body(self, at, *others):
        """A point that keeps its distances from others, as drawn."""
        point = self.entity(POINT_IN_3D, SOLVED, at)
        for other in others:
            self.distance(point, other, np.linalg.norm(self.at(point) - self.at(other)))
        return point

    def constrain(self, kind, **parts):
        self.constraints.append(Constraint(len(self.constraints) + 1, SOLVED, kind, **parts))
        return self.constraints[-1]

    def distance(self, a, b, length):
        return self.constrain(PT_PT_DISTANCE, ptA=a, ptB=b, valA=length)

    def in_plane_of(self, bearing, point):
        """Hold a point in the vertical plane of a bearing, through the mast."""
        quaternion = [c_double() for _ in range(4)]
        slvs.Slvs_MakeQuaternion(*map(c_double, [*e(bearing), *Z]), *map(ctypes.byref, quaternion))
        square = self.entity(NORMAL_IN_3D, FIXED, [q.value for q in quaternion])
        plane = self.entity(WORKPLANE, FIXED, point=(c_uint32 * 4)(self.origin), normal=square)
        self.constrain(PT_IN_PLANE, ptA=point, entity=(c_uint32 * 4)(plane))

    def at(self, point):
        return np.array([self.params[h - 1].val for h in self.entities[point - 1].param[:3]])

    def solve(self):
        arrays = [(kind * len(items))(*items) for kind, items in (
            (Param, self.params), (Entity, self.entities), (Constraint, self.constraints))]
        system = System(*(x for array in arrays for x in (array, len(array))))
        slvs.Slvs_Solve(ctypes.byref(system), SOLVED)
        if system.result != 0 or system.dof != 0:
            raise heads.Rejected(f"the drawing does not solve: result {system.result}, {system.dof} left free")
        self.params = list(arrays[0])


def solve(machine):
    """Draw the machine in neutral, move its arms, and measure height, tilt (right, forward) and blade pitches."""
    drawing = Drawing()
    floats = lambda strings: np.array([float(s) for s in strings])
    above = lambda at: at + [0, 0, machine["height_neutral_mm"]]
    guide = math.radians(machine["guide_deg"])

    centre = drawing.body(above(0 * Z))
    drawing.in_plane_of(0, centre)
    drawing.in_plane_of(math.radians(90), centre)
    top = drawing.body(above(K * Z), centre)
    pin = drawing.body(above(K * e(guide)), centre, top)
    drawing.in_plane_of(guide, pin)

    arms = []
    for leg, angle in zip(machine["legs"], machine["arms_deg"]):
        ball = leg["ball_radius_mm"] * e(math.radians(leg["bearing_deg"])) + leg["offset_mm"] * Z
        ball = drawing.body(above(ball), centre, top, pin)
        shaft, u, a, r = *map(floats, (leg["shaft_mm"], leg["axis"], leg["arm_dir"])), leg["arm_mm"]
        tip = drawing.body(shaft + r * a, drawing.fixed(shaft), drawing.fixed(shaft + K * u))
        drawing.distance(tip, ball, leg["link_mm"])
        below = drawing.fixed(shaft - r * np.cross(u, a))   # a right angle under neutral: the arm is set by its chord
        arms.append((drawing.distance(tip, below, 0), r, math.radians(angle)))

    grip, horns = machine["grip"], []
    side = 1 if grip["horn"] == "leading" else -1
    rest, neutral = math.radians(grip["rest_deg"]), math.radians(grip["neutral_deg"])
    hub = grip["hub_height_mm"] * Z
    for psi, *_ in machine["blade_deg"]:
        psi = math.radians(psi)
        lead = e(psi + math.radians(90 if grip["turn"] == "clockwise" else -90))
        mark = psi + math.radians(grip["driver_deg"])
        driver = drawing.body(above(K * e(mark)), centre, top)
        drawing.in_plane_of(mark, driver)
        ball = grip["ring_radius_mm"] * e(psi + math.radians(grip["phase_deg"])) + grip["ring_offset_mm"] * Z
        ball = drawing.body(above(ball), centre, top, driver)
        arm = side * grip["horn_mm"] * (math.cos(neutral + rest) * lead + math.sin(neutral + rest) * Z)
        horn = drawing.body(hub + grip["horn_x_mm"] * e(psi) + arm, drawing.fixed(hub), drawing.fixed(hub + K * e(psi)))
        drawing.distance(horn, ball, float(grip["link_mm"]))
        horns.append((horn, lead))

    for step in [*range(STEPS + 1), STEPS, STEPS]:  # twice more in the end: the solver stops at 1e-8 mm
        for chord, r, angle in arms:
            chord.valA = 2 * r * math.sin((math.radians(90) + step / STEPS * angle) / 2)
        drawing.solve()

    normal = drawing.at(top) - drawing.at(centre)
    flat = math.hypot(*normal[:2])
    tilt = math.degrees(math.atan2(flat, normal[2])) * normal[:2] / flat
    pitches = []
    for horn, lead in horns:
        arm = side * (drawing.at(horn) - hub)
        pitches.append(math.degrees(math.remainder(math.atan2(arm[2], arm @ lead) - rest, 2 * math.pi)))
    return [drawing.at(centre)[2], *tilt, *pitches]


def generate():
    """Three machines for each turning direction and side of the horn, two of the three with a ring offset."""
    rng = random.Random(SEED)
    layouts = [(0, 120, 240), (0, 135, 225), (0, 140, 220), (0, 90, 180)]
    heads_of = [(turn, horn) for turn in ("clockwise", "counter-clockwise") for horn in ("leading", "trailing")]
    aside = lambda a, b: abs(math.sin(math.radians(a - b))) > 0.25   # else centre, top and mark cannot hold a ball

    def wanted(machine, i):
        grip, guide = machine["grip"], machine["guide_deg"]
        return (guide is not None and all(aside(leg["bearing_deg"], guide) for leg in machine["legs"])
                and aside(grip["phase_deg"], grip["driver_deg"])
                and (grip["turn"], grip["horn"]) == heads_of[i // 3] and (grip["ring_offset_mm"] != 0) == (i % 3 > 0))

    machines = []
    while len(machines) < 12:
        machine = heads.three_legs(rng, layouts[len(machines) % 4], near=False)
        if not wanted(machine, len(machines)):
            continue
        try:
            height, right, forward, *pitches = solve(machine)
        except heads.Rejected:
            continue
        if 5 < math.hypot(right, forward) < 15:
            show = lambda x: f"{x:.{DECIMALS}f}"
            machine["pose"] = {"height_mm": show(height), "lean_right_deg": show(right),
                               "lean_forward_deg": show(forward)}
            machine["blade_deg"] = [[psi, show(pitch)] for (psi,), pitch in zip(machine["blade_deg"], pitches)]
            machines.append(machine)
    return machines


def check(machines):
    """Print the largest differences from heads.py. Return whether one is larger than TOLERANCE."""
    worst = []
    for machine in machines:
        pose, _, thetas, margins = heads.solve(machine)
        exact = [pose[0], *map(heads.deg, [*pose[1:], *thetas])]
        off = [abs(float(heads.mpf(got) - want)) for got, want in zip(heads.answers(machine), exact, strict=True)]
        worst.append([off[0], max(off[1:3]), max(off[3:])])
        print("height off by {:.1e} mm, tilt {:.1e}, blades {:.1e} degree; ".format(*worst[-1])
              + "margins: leg {:.2f}, jacobian {:.2f}, horn {:.2f}".format(*map(float, margins)))
    print("largest: height {:.1e} mm, tilt {:.1e}, blades {:.1e} degree".format(*map(max, zip(*worst))))
    return max(map(max, worst)) > TOLERANCE


def main():
    heads.mp.dps = heads.DIGITS
    if sys.argv[1:] == ["--check"]:
        sys.exit(check(json.loads(TABLE.read_text())))
    TABLE.write_text("[\n" + ",\n".join(json.dumps(m) for m in generate()) + "\n]\n")


if __name__ == "__main__":
    main()
