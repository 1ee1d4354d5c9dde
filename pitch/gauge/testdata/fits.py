"""Reference fits of pitch-gauge readings: the direct demonstration machine, its parts off at random.

    python3 fits.py          writes fits.json beside this file

Needs numpy and scipy 1.10.1. The geometry is written down as constraint equations and given to scipy.optimize.fsolve;
the fit is scipy.optimize.least_squares with numerical derivatives. Nothing here is shared with the library under test;
the machine's numbers are those of examples/demo/testdata/direct.json, mode "hover".

Frame: x right, y forward, z up; a bearing is clockwise from the nose seen from above. Metres and radians.

fits.json is a list of cases. Fields of a case: name; truth, what each part is off by; readings, each with of (0 pitch,
1 tilt right, 2 tilt forward, 3 arm), blade, servo, bearing_deg, stick (collective, right, forward), value in rad;
estimate, sigma and chi_square, of the fit. The vectors go by kind of part: centre, gain, low, high (three servos each),
arm (3), link (3), hub, pitch link (2 blades), horn (2), zero of the pitch gauge.
"""

import json
import math
from pathlib import Path

import numpy as np
from scipy.optimize import fsolve, least_squares

DEG, MM = math.pi / 180, 1e-3
BEARINGS = [0.0, 120 * DEG, 240 * DEG]
BALL, ARM, LINK, HEIGHT, GUIDE = 30 * MM, 12 * MM, 58 * MM, 60 * MM, 180 * DEG
THROW, STEP, TRAVEL = 400.0, 1.0, 36 * DEG                     # µs, µs, rad
SENSE = [1, 1, -1]                                             # raises on longer pulses; reversed in the radio where not
HORN, HORN_X, HUB, RING, PHASE, DRIVER = 20 * MM, 4 * MM, 105 * MM, 16 * MM, 80 * DEG, 0.0
RATES, EXPO = (0.47, 0.62, 0.56), 0.30
CURVE = [0.0, 0.5, 1.0], [-0.30, 0.495, 0.94]                  # collective stick; pitch curve, straight between

# One standard deviation of each part, in the order of a vector.
PRIOR = np.array([1 * DEG] * 3 + [0.03] * 3 + [0.005] * 6 + [0.1 * MM] * 3 + [0.2 * MM] * 3 + [0.3 * MM] + [0.3 * MM] * 2
                 + [0.1 * MM] * 2 + [0.3 * DEG])
GAUGES = {0: (0.5 * DEG, 0.1 * DEG), 1: (0.1 * DEG, 0.1 * DEG), 2: (0.1 * DEG, 0.1 * DEG), 3: (1 * DEG, 0.5 * DEG)}


def e(b):
    return np.array([math.sin(b), math.cos(b), 0.0])


def place(v, pose, mark):
    """A point of the plate or the ring, drawn about the centre of the level plate, in space: both are square to the
    normal n, and turned about n so that the mark, drawn at that bearing, is in the vertical plane of the bearing."""
    h, right, forward = pose
    t = math.hypot(right, forward)                             # np.sinc(x) is sin(pi x)/(pi x)
    n = np.array([0, 0, math.cos(t)]) + np.sinc(t / math.pi) * np.array([right, forward, 0])
    p = n[2] * e(mark) - np.dot(n, e(mark)) * np.array([0, 0, 1.0])
    p /= np.linalg.norm(p)
    return np.array([0, 0, h]) + np.dot(v, e(mark)) * p + np.dot(v, e(mark + math.pi / 2)) * np.cross(p, n) + v[2] * n


def turns(stick):
    """What the radio sends each servo: turn of the arm, and its change for each end point."""
    collective, right, forward = stick
    expo = lambda x: (1 - EXPO) * x + EXPO * x**3
    demand = [RATES[0] * np.interp(collective, *CURVE), RATES[1] * expo(right), RATES[2] * expo(forward)]
    out = []
    for b, sense in zip(BEARINGS, SENSE):
        command = demand[0] - demand[1] * math.sin(b) - demand[2] * math.cos(b)
        pulse = sense * command * THROW                        # from neutral
        sent = round(pulse / STEP) * STEP
        turn = sense * TRAVEL / THROW
        out.append((sent * turn, min(pulse, 0) * turn, max(pulse, 0) * turn))
    return out


class Build:
    def __init__(self, x):
        self.centre, self.gain, self.low, self.high, self.arm, self.link = np.split(np.asarray(x[:18]), 6)
        self.hub, self.horn_link, self.horn = x[18], x[19:21], x[21:23]
        self.zero = x[23]

    def arms(self, stick):
        return [c + (1 + g) * (t + l * pl + h * ph)
                for c, g, l, h, (t, pl, ph) in zip(self.centre, self.gain, self.low, self.high, turns(stick))]

    def pose(self, stick):
        arms = self.arms(stick)

        def strains(p):
            pose = (p[0] * MM, p[1], p[2])
            out = []
            for b, q, da, dl in zip(BEARINGS, arms, self.arm, self.link):
                shaft = (BALL - ARM) * e(b) + np.array([0, 0, HEIGHT - LINK])
                ball = shaft + (ARM + da) * (math.cos(q) * e(b) + math.sin(q) * np.array([0, 0, 1.0]))
                out.append((np.linalg.norm(ball - place(BALL * e(b), pose, GUIDE)) - LINK - dl) / MM)
            return out
        h, right, forward = fsolve(strains, [HEIGHT / MM, 0, 0], xtol=1e-13)
        return h * MM, right, forward

    def show(self, reading):
        of, stick = reading["of"], reading["stick"]
        if of == 3:
            return self.arms(stick)[reading["servo"]]
        pose = self.pose(stick)
        if of in (1, 2):
            return pose[of]
        psi, blade = reading["bearing_deg"] * DEG, reading["blade"]
        ring = place(RING * e(psi + PHASE), pose, psi + DRIVER)

        def horn_link(theta):
            ball = (np.array([0, 0, HUB + self.hub]) + HORN_X * e(psi) + (HORN + self.horn[blade])
                    * (math.cos(theta) * e(psi + math.pi / 2) + math.sin(theta) * np.array([0, 0, 1.0])))
            return np.linalg.norm(ball - ring)
        length = cut() + self.horn_link[blade]
        theta = fsolve(lambda t: (horn_link(t[0]) - length) / MM, [0.0], xtol=1e-13)[0]
        return theta + self.zero


def cut():
    """The pitch link's length by the file: the blade at zero on the level plate."""
    ball = np.array([0, 0, HUB]) + HORN_X * e(0) + HORN * e(math.pi / 2)
    return np.linalg.norm(ball - np.array([0, 0, HEIGHT]) - RING * e(PHASE))


def sigma(of):
    step, repeat = GAUGES[of]
    return math.hypot(step / math.sqrt(12), repeat)


def fit(readings):
    def residuals(scaled):
        build = Build(scaled * PRIOR)
        return np.concatenate([[(r["value"] - build.show(r)) / sigma(r["of"]) for r in readings], -scaled])
    found = least_squares(residuals, np.zeros(len(PRIOR)), jac="3-point", xtol=1e-14, ftol=1e-14, gtol=1e-12)
    covariance = np.linalg.inv(found.jac.T @ found.jac)
    return found.x * PRIOR, np.sqrt(np.diag(covariance)) * PRIOR, 2 * found.cost


def spots():
    def spot(of, stick, blade=0, servo=0, bearing=180):
        return {"of": of, "blade": blade, "servo": servo, "bearing_deg": bearing, "stick": stick}
    some = [spot(0, [c, 0, 0], blade) for blade in (0, 1) for c in (0.2, 0.5, 0.8)]
    some += [spot(0, [0.5, *s], 0, 0, b) for s, b in (((0.6, 0), 180), ((0, -0.6), 90), ((0.3, 0.4), 30))]
    tilt_and_arm = [spot(of, [c, 0, 0]) for of in (1, 2) for c in (0.2, 0.8)] + [spot(3, [0.5, 0, 0], 0, i) for i in range(3)]
    return some, tilt_and_arm


def main():
    rng = np.random.default_rng(20240607)
    pitch, others = spots()
    faults = {"pitch link 0.5 mm long": (19, 0.5 * MM), "link half a turn long": (16, 0.2 * MM), "gain 3 % high": (4, 0.03)}
    cases = []
    for name in [*faults, "at random 1", "at random 2", "at random 3"]:
        truth = rng.normal(size=len(PRIOR)) * PRIOR if name.startswith("at random") else np.zeros(len(PRIOR))
        if name in faults:
            i, off = faults[name]
            truth[i] = off
        build = Build(truth)
        readings = []
        for spot in pitch + (others if name != "at random 1" else []):
            step, repeat = GAUGES[spot["of"]]
            value = build.show(spot) + rng.normal() * repeat
            readings.append(spot | {"value": round(value / step) * step})
        estimate, error, chi_square = fit(readings)
        cases.append({"name": name, "truth": truth.tolist(), "readings": readings, "estimate": estimate.tolist(),
                      "sigma": error.tolist(), "chi_square": chi_square})
    lines = [",\n".join(f' "{k}": ' + (json.dumps(v) if k != "readings" else
                                        "[\n" + ",\n".join("  " + json.dumps(r) for r in v) + "]") for k, v in case.items())
             for case in cases]
    Path(__file__).with_suffix(".json").write_text("[{\n" + "\n}, {\n".join(lines) + "\n}]\n")


if __name__ == "__main__":
    main()
