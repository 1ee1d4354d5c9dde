"""Patterns that have a formula: networks.json against it.

    python3 by_hand.py

The formulas are written for each mechanism by itself, from lengths and published angles, and not from the case's bodies.
Angles are in degrees; a coordinate is an angle or a place less what it is at the case's neutral.
"""

import json
import sys
from pathlib import Path

from mpmath import acos, asin, atan, atan2, cos, degrees, mp, mpc, mpf, radians, sin, sqrt, tan

mp.dps = 30
TABLE = Path(__file__).with_name("networks.json")
TOLERANCE = mpf(10) ** -12


def freudenstein(a, b, c, d, theta, crossed):
    """Rocker angle of a four-bar from its crank angle: K1 cos t4 - K2 cos t2 + K3 = cos(t2 - t4), by the half angle."""
    k1, k2, k3 = mpf(d) / a, mpf(d) / c, mpf(a * a - b * b + c * c + d * d) / (2 * a * c)
    t = radians(theta)
    p, q, r = cos(t) - k1 - k2 * cos(t) + k3, -2 * sin(t), k1 - (k2 + 1) * cos(t) + k3
    root = sqrt(q * q - 4 * p * r)
    return degrees(2 * atan((-q + (root if crossed else -root)) / (2 * p)))


def four_bar(lengths, first, crossed):
    return lambda crank: {"rocker": freudenstein(*lengths, first + crank, crossed) - freudenstein(*lengths, first, crossed)}


def watt(crank):
    middle = freudenstein(40, 120, 80, 100, 40 + crank, False) - freudenstein(40, 120, 80, 100, 40, False)
    last = lambda turn: freudenstein(20, 70, 90, 60, 30 + turn, False)
    return {"middle rocker": middle, "rocker": last(middle) - last(0)}


# Points of a plane are complex numbers.

def at(x, y=0):
    return mpc(x, y)


def arm(length, angle):
    return length * mpc(cos(radians(angle)), sin(radians(angle)))


def meet(a, ra, b, rb, side):
    """The corner of a triangle over the side from a to b, by the law of cosines; to its left (1) or right (-1)."""
    d = abs(b - a)
    corner = acos((d * d + ra * ra - rb * rb) / (2 * d * ra))
    return a + ra * (b - a) / d * mpc(cos(corner), side * sin(corner))


def angle(a, b):
    return degrees(mp.arg(b - a))


def less(now, then):
    """Differences of angles, to within half a turn."""
    return {name: (value - then[name] + 180) % 360 - 180 for name, value in now.items()}


def from_neutral(angles):
    return lambda crank: less(angles(mpf(crank)), angles(mpf(0)))


def stephenson(crank):
    pin = arm(20, 180 + crank)
    end = meet(pin, 50, at(40), 50, 1)
    traced = 2 * end - pin
    coupler = angle(pin, end)
    # the coupler's coordinate counts from the crank that carries it
    return {"coupler": coupler - crank, "rocker": angle(at(100, 40), meet(traced, 60, at(100, 40), 40, 1))}


def watt_one(rocker):
    turn = arm(1, rocker)
    joint, far = at(0, 60) * turn, at(40, 80) * turn
    end = meet(joint, 60, at(-60, 10), 50, -1)
    coupler = (end - joint) / at(-60, 0)                # how far the coupler has turned, as a unit number
    pivot = joint + at(-30, 30) * coupler
    tip = meet(pivot, 50, far, 50, 1)
    return {"coupler": degrees(mp.arg(coupler)) - rocker, "arm": angle(pivot, tip) - degrees(mp.arg(coupler))}


def jansen(crank):
    pivot, pin = at(mpf(-38), mpf(-7.8)), arm(15, crank)
    top = meet(pin, 50, pivot, mpf(41.5), -1)
    side = meet(pivot, mpf(40.1), top, mpf(55.8), 1)
    low = meet(pin, mpf(61.9), pivot, mpf(39.3), 1)
    heel = meet(side, mpf(39.4), low, mpf(36.7), 1)
    lower = angle(pivot, low)
    return {"upper rocker": angle(pivot, top), "lower rocker": lower, "foot": angle(low, heel) - lower}


def peaucellier(crank):
    half = radians(crank) / 2                                   # the traced point is seen from the origin under this angle
    spread = lambda op: acos((100 ** 2 - 50 ** 2 + op * op) / (200 * op))
    open_, first = spread(60 * cos(half)), spread(mpf(60))
    return {"left arm": degrees(half + open_ - first), "right arm": degrees(half - open_ + first), "tracer": 125 * tan(half)}


def haug_slider(crank):
    t = radians(90 + crank)
    y, z = 100 + 80 * cos(t), 120 + 80 * sin(t)
    return {"slider": sqrt(300 ** 2 - y * y - z * z) - 200}


def haug_psi(wheel):
    """C = (-40 + 74 cos psi, -85, 74 sin psi) at 122 from B = (0, -20 sin phi, 20 cos phi): p cos psi + s sin psi = c."""
    y, z = -20 * sin(radians(wheel)), 20 * cos(radians(wheel))
    p, s = mpf(-2 * 40 * 74), -2 * 74 * z
    c = 122 ** 2 - 40 ** 2 - (85 + y) ** 2 - 74 ** 2 - z * z
    return atan2(s, p) - acos(c / sqrt(p * p + s * s))


def haug_rocker(wheel):
    return less({"rocker": degrees(haug_psi(wheel))}, {"rocker": degrees(haug_psi(0))})


# Heads.

def lifted(lever, tilt):
    """The yoke's shaft goes with the lever; a distance of 40 stands between it and the plate's centre, on the mast."""
    back, up = 80 * (1 - cos(radians(lever))), 20 + 80 * sin(radians(lever))
    t = radians(tilt)
    return [up + sqrt(1600 - back * back), mpf(0), -sin(t)]


def level(lever, forward):
    return {"yoke": mpf(forward - lever), "plate": lifted(lever, forward)}


def out_of_parallel(lever, forward):
    """Yoke arm of 20 under the lever's end, rod of sqrt(80^2 + 2^2), frame arm of 18 under the lever's shaft: a four-bar in
    the plane of y and z. The plate tilts as the yoke does."""
    shaft, end = at(0), arm(80, lever)
    foot = meet(arm(18, forward - 90), sqrt(mpf(80 * 80 + 4)), end, mpf(20), -1)
    tilt = angle(end, foot) + 90
    return {"yoke": tilt - lever, "plate": lifted(lever, tilt)}


def sleeve(collective):
    """Servo arm 40 at (y, z) = (-52, 8), rod 30 to the sleeve's ball at y = -12, which stands at z = 38 in neutral."""
    tip = at(-52, 8) + arm(40, collective)
    return tip.imag + sqrt(900 - (tip.real + 12) ** 2) - 38


def push_pull(collective, right, forward):
    up, turn = sleeve(collective), radians(right)
    if right and forward:
        return {"sleeve": None}                                   # a fight: no formula
    normal = [sin(turn), mpf(0)] if right else [mpf(0), -sin(radians(forward))]
    return {"sleeve": up, "right mixer": mpf(right), "left mixer": mpf(right), "plate": [60 + up, *normal]}


FORMULAS = {
    "pattern f, push-pull": push_pull,
    "pattern g, a parallelogram": level,
    "pattern g, one rod": out_of_parallel,
    "pattern i, four-bar 40-120-80-100, open": four_bar((40, 120, 80, 100), 40, False),
    "pattern i, four-bar 40-120-80-100, crossed": four_bar((40, 120, 80, 100), 40, True),
    "pattern i, four-bar 20-70-90-60, open": four_bar((20, 70, 90, 60), 30, False),
    "pattern i, four-bar 20-70-90-60, crossed": four_bar((20, 70, 90, 60), 30, True),
    "pattern i, slider-crank, ": lambda t: {"slider": 10 * cos(radians(t)) + sqrt(400 - 100 * sin(radians(t)) ** 2) - 30},
    "pattern i, slider-crank in space": haug_slider,
    "pattern i, two cranks in space": haug_rocker,
    "pattern i, six-bar, Watt II": watt,
    "pattern i, six-bar, Stephenson III": from_neutral(stephenson),
    "pattern i, six-bar, Watt I,": from_neutral(watt_one),
    "pattern i, eight-bar, leg": from_neutral(jansen),
    "pattern i, eight-bar, straight line": peaucellier,
}


def published():
    """What the sources print: what, the same by the formulas, the printed number, and how far off it may be."""
    t = radians(45)
    drop, run = 10 * sin(t), 10 * cos(t)
    speed = drop + drop * run / sqrt(400 - drop ** 2)
    return [("slider-crank 10, 20 at 45 degrees, rod angle (seen)", 180 - degrees(asin(drop / 20)), "159.295", 5e-4),
            ("slider-crank 10, 20 at 45 degrees, speed (seen)", speed, "9.744", 5e-4),
            ("slider-crank in space, neutral (seen)", haug_slider(0)["slider"] + 200, "200", 1e-20),
            ("two cranks in space, rocker's ball at neutral, x (seen)", -40 + 74 * cos(haug_psi(0)), "-74.9111544", 5e-7),
            ("two cranks in space, rocker's ball at neutral, z (seen)", 74 * sin(haug_psi(0)), "65.2473088", 5e-7),
            ("four-bar open at 40 degrees (memory)", freudenstein(40, 120, 80, 100, 40, False), "57.3", 5e-2),
            ("four-bar crossed at 40 degrees (memory)", freudenstein(40, 120, 80, 100, 40, True), "-98.0", 5e-2),
            ("four-bar row a open (memory)", freudenstein(20, 70, 90, 60, 30, False), "117.3", 5e-2),
            ("four-bar row a crossed (memory)", freudenstein(20, 70, 90, 60, 30, True), "-143.6", 7e-2)]


def main():
    cases = json.loads(TABLE.read_text())
    failed, seen = False, 0
    for prefix, formula in FORMULAS.items():
        worst, count = mpf(0), 0
        for case in cases:
            if not case["name"].startswith(prefix):
                continue
            count += 1
            for name, want in formula(*case["inputs"].values()).items():
                got = case["solution"]["coordinates"][name]
                for g, w in zip(*((got, want) if isinstance(got, list) else ([got], [want])), strict=True):
                    worst = worst if w is None else max(worst, abs(mpf(g) - w))
        seen += count
        failed |= count == 0 or worst > TOLERANCE
        print(f"{prefix.strip(', ')}: {count} cases, largest difference {float(worst):.1e}")
    for what, here, printed, half in published():
        failed |= abs(here - mpf(printed)) > half
        print(f"{what}: printed {printed}, here {mp.nstr(here, 10)}")
    print(f"{seen} cases")
    return failed


if __name__ == "__main__":
    sys.exit(main())
