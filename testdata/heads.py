"""Reference table of irregular rotor heads: arm angles -> plate pose -> blade pitch.

    python3 heads.py                      writes heads.json beside this file
    python3 heads.py --check poses.json   solves the machines of poses.json afresh and compares, then solves
                                          every machine of heads.json by a second method and compares

Needs mpmath 1.2.1; the check also needs scipy 1.10.1. The constraint equations are written down as they stand and given
to mpmath.findroot, which takes its derivatives numerically. Nothing here is shared with the library under test.

Frame: x right, y forward, z up; a bearing is clockwise from the nose seen from above; millimetres, degrees in the
files, radians inside. A pose is (h, right, forward): height of the plate's centre on the mast, and the plate's tilt.

A solution is the one continuous with neutral: all arms go from 0 to their final angle in STEPS equal steps, each solved
from the one before. The fields of both files are described in README.md.
"""

import json
import math
import random
import sys
from pathlib import Path

import mpmath
from mpmath import mp, mpf

SEED = 20240607
STEPS = 20           # from neutral to the final arm angles
PATH_DIGITS = 20     # precision on the way, where a solution is only the next one's start
DIGITS = 40          # precision of the solution itself
PRINTED = 18         # digits written
MAX_TILT_DEG = 20

HERE = Path(__file__).parent


# Vectors are tuples of mpf.

def vector(strings):
    return tuple(mpf(s) for s in strings)


def add(*vs):
    return tuple(map(sum, zip(*vs)))


def times(k, v):
    return tuple(k * x for x in v)


def sub(v, w):
    return add(v, times(-1, w))


def dot(v, w):
    return sum(x * y for x, y in zip(v, w))


def cross(v, w):
    return (v[1] * w[2] - v[2] * w[1], v[2] * w[0] - v[0] * w[2], v[0] * w[1] - v[1] * w[0])


def length(v):
    return mpmath.sqrt(dot(v, v))


def unit(v):
    return times(1 / length(v), v)


Z = (mpf(0), mpf(0), mpf(1))


def e(bearing):
    return (mpmath.sin(bearing), mpmath.cos(bearing), mpf(0))


def rad(degrees):
    return mpf(degrees) * mp.pi / 180


def deg(radians):
    return radians * 180 / mp.pi


# Constraint equations.

def normal(right, forward):
    """The plate's normal: tilted by t = hypot(right, forward), towards the bearing of the plate's low side."""
    t = mpmath.hypot(right, forward)
    if t == 0:
        return Z
    return (mpmath.sin(t) * right / t, mpmath.sin(t) * forward / t, mpmath.cos(t))


def plate(pose, mark):
    """Return the map from points of the plate or the ring, as drawn about the centre of the level plate, to space.

    Both are square to the normal n. Each is turned about n so that its mark, drawn at that bearing, is in the vertical
    plane of the bearing. A plate without a mark (None) takes the smallest turn that carries z to n.
    """
    h, right, forward = pose
    centre, n = times(h, Z), normal(right, forward)
    if mark is None:
        v = cross(Z, n)

        def place(point):
            once = cross(v, point)
            return add(centre, point, once, times(1 / (1 + n[2]), cross(v, once)))
    else:
        ahead, aside = e(mark), cross(e(mark), Z)   # as drawn: towards the mark, and a right angle clockwise from it
        p = unit(sub(times(n[2], ahead), times(dot(n, ahead), Z)))
        q = cross(p, n)

        def place(point):
            return add(centre, times(dot(point, ahead), p), times(dot(point, aside), q), times(point[2], n))
    return place


class Leg:
    def __init__(self, leg):
        self.shaft = vector(leg["shaft_mm"])
        self.u = unit(vector(leg["axis"]))
        a = vector(leg["arm_dir"])
        self.a = unit(sub(a, times(dot(a, self.u), self.u)))
        self.up = cross(self.u, self.a)
        self.arm = mpf(leg["arm_mm"])
        self.plate_ball = add(times(mpf(leg["ball_radius_mm"]), e(rad(leg["bearing_deg"]))),
                              times(mpf(leg["offset_mm"]), Z))
        self.link = mpf(leg.get("link_mm", 0))

    def arm_ball(self, q):
        return add(self.shaft, times(self.arm * mpmath.cos(q), self.a), times(self.arm * mpmath.sin(q), self.up))

    def strain(self, q, place):
        return length(sub(self.arm_ball(q), place(self.plate_ball))) - self.link

    def margin(self, q, place):
        """Cosine between the link and the way the arm ball moves: 0 at the leg's dead centre."""
        way = sub(times(mpmath.cos(q), self.up), times(mpmath.sin(q), self.a))
        return dot(way, unit(sub(place(self.plate_ball), self.arm_ball(q))))


class Grip:
    def __init__(self, grip):
        self.ring_radius, self.ring_offset, self.horn, self.horn_x, self.hub, self.link = (
            mpf(grip.get(k + "_mm", 0)) for k in ("ring_radius", "ring_offset", "horn", "horn_x", "hub_height", "link"))
        self.phase, self.driver, self.rest, self.neutral = (
            rad(grip.get(k, 0)) for k in ("phase_deg", "driver_deg", "rest_deg", "neutral_deg"))
        self.ahead = rad(90) if grip["turn"] == "clockwise" else rad(-90)  # leading edge, from the blade
        self.side = 1 if grip["horn"] == "leading" else -1

    def ring_ball(self, psi, pose):
        drawn = add(times(self.ring_radius, e(psi + self.phase)), times(self.ring_offset, Z))
        return plate(pose, psi + self.driver)(drawn)

    def horn_ball(self, theta, psi):
        arm = self.side * self.horn
        return add((mpf(0), mpf(0), self.hub), times(self.horn_x, e(psi)),
                   times(arm * mpmath.cos(theta + self.rest), e(psi + self.ahead)),
                   times(arm * mpmath.sin(theta + self.rest), Z))

    def strain(self, theta, psi, ring_ball):
        return length(sub(self.horn_ball(theta, psi), ring_ball)) - self.link

    def margin(self, theta, psi, ring_ball):
        """Cosine between the pitch link and the way the horn ball moves: 0 at the horn's dead centre."""
        way = add(times(-mpmath.sin(theta + self.rest), e(psi + self.ahead)), times(mpmath.cos(theta + self.rest), Z))
        return self.side * dot(way, unit(sub(self.horn_ball(theta, psi), ring_ball)))


# Solution.

class Rejected(Exception):
    pass


def root(f, start):
    """Solve f = 0 near start, a list, with a numerical Jacobian."""
    try:
        found = mpmath.findroot(f, start, solver="mdnewton", maxsteps=30)
    except (ValueError, ZeroDivisionError) as err:
        raise Rejected(str(err))
    return list(found)


def solve_pose(legs, pin, arms, start):
    def strains(*pose):
        place = plate(pose, pin)
        return [leg.strain(q, place) for leg, q in zip(legs, arms)]

    def energy(*pose):
        return sum(s * s for s in strains(*pose))

    def gradient(*pose):
        return [mpmath.diff(energy, pose, order) for order in ((1, 0, 0), (0, 1, 0), (0, 0, 1))]

    pose = root(strains if len(legs) == 3 else gradient, start)
    radius = sum(length(leg.plate_ball) for leg in legs) / len(legs)
    return pose, strains(*pose), volume(strains, pose, radius)


def volume(strains, pose, radius):
    """Determinant of the strains' derivatives by the pose, for more legs than three the root of that of J'J. Scaled to
    1 for upright links at even bearings on one radius; 0 at the plate's dead centre, where its pose is singular."""
    step = mpf(10) ** (-PATH_DIGITS // 2)
    at = strains(*pose)
    columns = []
    for i, even in enumerate((1, radius / mpf(2) ** 0.5, radius / mpf(2) ** 0.5)):
        moved = strains(*(x + step * (i == j) for j, x in enumerate(pose)))
        columns.append(times(1 / (step * even * mpf(len(at)) ** 0.5), sub(moved, at)))
    if len(at) == 3:
        return dot(columns[0], cross(columns[1], columns[2]))
    return mpmath.sqrt(mpmath.det(mpmath.matrix([[dot(v, w) for v in columns] for w in columns])))


def solve(machine):
    """Follow the machine from neutral. Return pose, strains, blade pitches and the smallest margins on the way."""
    legs = [Leg(leg) for leg in machine["legs"]]
    grip = Grip(machine["grip"]) if "grip" in machine else None
    pin = None if machine["guide_deg"] is None else rad(machine["guide_deg"])
    bearings = [rad(psi) for psi, *_ in machine.get("blade_deg", [])]

    pose, thetas = [mpf(machine["height_neutral_mm"]), mpf(0), mpf(0)], [grip.neutral for _ in bearings] if grip else []
    seen = []
    for step in [*range(STEPS + 1), "last"]:
        part = mpf(1) if step == "last" else mpf(step) / STEPS
        with mp.workdps(DIGITS if step == "last" else PATH_DIGITS):
            arms = [part * rad(q) for q in machine["arms_deg"]]
            pose, strains, jacobian = solve_pose(legs, pin, arms, pose)
            ring = [grip.ring_ball(psi, pose) for psi in bearings]
            thetas = [root(lambda th: [grip.strain(th, psi, ball)], [theta])[0]
                      for theta, psi, ball in zip(thetas, bearings, ring)]
            place = plate(pose, pin)
            seen.append(([leg.margin(q, place) for leg, q in zip(legs, arms)], [jacobian],
                         [grip.margin(*blade) for blade in zip(thetas, bearings, ring)]))
            if deg(mpmath.hypot(pose[1], pose[2])) > MAX_TILT_DEG:
                raise Rejected("plate tilts too far")

    residuals = [grip.strain(*blade) for blade in zip(thetas, bearings, ring)]
    if len(legs) == 3:
        residuals += strains
    if any(abs(r) > mpf(10) ** -35 for r in residuals):
        raise Rejected("not converged")
    margins = []
    for kind in zip(*seen):                 # legs, Jacobian, grip: each with its neutral sign, so that a crossing shows
        signs = [mpmath.sign(m) for m in kind[0]]
        margins.append(min((s * m for now in kind for s, m in zip(signs, now)), default=mpf(1)))
    return pose, strains, thetas, margins


# Random machines. Every input is rounded to the double that the file will hold before anything is solved from it.

def random_leg(rng, bearing, height, tilts):
    def polar(azimuth, elevation, size=1.0):
        return (size * math.cos(elevation) * math.sin(azimuth), size * math.cos(elevation) * math.cos(azimuth),
                size * math.sin(elevation))

    leg = {
        "bearing_deg": round(bearing, 2),
        "ball_radius_mm": round(rng.uniform(12, 35), 2),
        "offset_mm": rng.choice([0, round(rng.uniform(-3, 3), 2), round(rng.uniform(-3, 3), 2)]),
        "arm_mm": round(rng.uniform(8, 20), 2),
    }
    b = math.radians(leg["bearing_deg"])
    ball = (leg["ball_radius_mm"] * math.sin(b), leg["ball_radius_mm"] * math.cos(b), height + leg["offset_mm"])

    # The axis is horizontal in a quarter of the legs. The arm is square to it and near horizontal, positive raising.
    tilt = math.radians(rng.choice([0, 1, 1, 1]) * rng.uniform(-15, 15))
    u = polar(rng.uniform(0, 2 * math.pi), tilt)
    level = unit(cross((0.0, 0.0, 1.0), u))
    droop = math.radians(rng.uniform(-10, 10))
    a = add(times(math.cos(droop), level), times(math.sin(droop), cross(u, level)))
    leg["axis"], leg["arm_dir"] = ([repr(float(x)) for x in v] for v in (u, a))

    # The link stands, leaning from the mast by an angle between tilts, and in a quarter of the legs hangs.
    tilt = math.radians(rng.uniform(*tilts))
    link = polar(rng.uniform(0, 2 * math.pi), rng.choice([1, 1, 1, -1]) * (math.pi / 2 - tilt), rng.uniform(20, 60))
    shaft = sub(sub(ball, link), times(leg["arm_mm"], a))
    leg["shaft_mm"] = [repr(round(float(x), 3)) for x in shaft]

    cut = Leg(leg)
    leg["link_mm"] = float(cut.strain(0, plate((mpf(height), mpf(0), mpf(0)), None)))  # link still 0: the distance
    return leg


def random_grip(rng, height):
    grip = {
        "horn_mm": round(rng.uniform(9, 17), 2),
        "horn_x_mm": round(rng.uniform(0, 8), 2),
        "hub_height_mm": round(height + rng.uniform(18, 45), 2),
        "rest_deg": round(rng.uniform(-20, 20), 2),
        "driver_deg": round(rng.uniform(-30, 30), 2),
        "turn": rng.choice(["clockwise", "counter-clockwise"]),
        "horn": rng.choice(["leading", "trailing"]),
        "neutral_deg": round(rng.uniform(-5, 5), 2),
    }
    horn_bearing = math.degrees(math.atan2(grip["horn_mm"], grip["horn_x_mm"]))
    if (grip["turn"] == "clockwise") != (grip["horn"] == "leading"):
        horn_bearing = -horn_bearing
    grip["phase_deg"] = round(horn_bearing + rng.uniform(-12, 12), 2)
    grip["ring_radius_mm"] = round(math.hypot(grip["horn_mm"], grip["horn_x_mm"]) * rng.uniform(0.8, 1.2), 2)
    grip["ring_offset_mm"] = rng.choice([0, round(rng.uniform(-3, 3), 2)])
    cut = Grip(grip)
    grip["link_mm"] = repr(float(cut.strain(cut.neutral, mpf(0), cut.ring_ball(mpf(0), (mpf(height), mpf(0), mpf(0))))))
    return grip


def random_machine(rng, group, layout, tilts):
    height = round(rng.uniform(40, 90), 2)
    first = rng.choice([0, rng.uniform(0, 360)]) if len(layout) == 3 else 0
    legs = [random_leg(rng, (first + b + rng.uniform(-12, 12)) % 360, height, tilts) for b in layout]
    guide = None if rng.random() < 0.25 else round(rng.uniform(0, 360), 2)
    return {"group": group, "height_neutral_mm": height, "guide_deg": guide, "legs": legs}


def three_legs(rng, layout, near):
    machine = random_machine(rng, "near dead centre" if near else "three legs", layout, (40, 75) if near else (0, 30))
    throw = rng.uniform(15 if near else 5, 30)
    machine["arms_deg"] = [round(rng.uniform(-throw, throw), 2) for _ in layout]
    machine["grip"] = random_grip(rng, machine["height_neutral_mm"])
    machine["blade_deg"] = [[rng.randint(quadrant, quadrant + 89)] for quadrant in (0, 90, 180, 270)]
    return machine


def four_legs(rng, fight):
    """Arms that agree on some pose, to 0.1 degree and to within fight; links off by up to 0.2 mm."""
    machine = random_machine(rng, "four legs", (0, 90, 180, 270), (0, 30))
    b, t = rng.uniform(0, 2 * math.pi), math.radians(rng.uniform(0, 12))
    pin = None if machine["guide_deg"] is None else rad(machine["guide_deg"])
    place = plate((machine["height_neutral_mm"] + rng.uniform(-5, 5), t * math.sin(b), t * math.cos(b)), pin)
    machine["arms_deg"] = []
    for leg in machine["legs"]:
        with mp.workdps(PATH_DIGITS):
            exact = root(lambda q: [Leg(leg).strain(q, place)], [mpf(0)])[0]
        machine["arms_deg"].append(round(float(deg(exact)) + rng.uniform(-fight, fight), 1))
        leg["link_mm"] += round(rng.uniform(-0.2, 0.2), 3)
    return machine


def accept(machine):
    """Solve the machine and fill in its answers, or raise Rejected."""
    if max(map(abs, machine["arms_deg"])) > 30:
        raise Rejected("arm beyond 30 degrees")
    pose, strains, thetas, (leg, jacobian, horn) = solve(machine)
    if machine["group"] == "near dead centre":
        wanted = min(leg, jacobian) > 0.02 and (leg < 0.2 or jacobian < 0.1)
    else:
        wanted = leg > 0.2 and jacobian > 0.1
    if not wanted or horn < 0.3:
        raise Rejected("margins")
    if max(map(abs, strains)) > 2:
        raise Rejected("strain")

    show = lambda x: mpmath.nstr(x, PRINTED)
    machine["pose"] = {"height_mm": show(pose[0]), "lean_right_deg": show(deg(pose[1])),
                       "lean_forward_deg": show(deg(pose[2]))}
    machine["margin"] = {"leg": round(float(leg), 4), "jacobian": round(float(jacobian), 4)}
    if len(machine["legs"]) > 3:
        machine["strain_mm"] = [show(s) for s in strains]
    if thetas:
        machine["margin"]["horn"] = round(float(horn), 4)
        machine["blade_deg"] = [[psi, show(deg(theta))] for (psi,), theta in zip(machine["blade_deg"], thetas)]
    return machine


def draw(make):
    """Draw machines until one is accepted."""
    while True:
        try:
            return accept(make())
        except Rejected:
            pass


def generate():
    rng = random.Random(SEED)
    machines = []
    layouts = [(0, 120, 240), (0, 135, 225), (0, 140, 220), (0, 90, 180)]
    for near, count in ((False, 180), (True, 32)):
        for i in range(count):
            machines.append(draw(lambda: three_legs(rng, layouts[i % len(layouts)], near)))
    for i in range(44):
        machines.append(draw(lambda: four_legs(rng, 2 if i % 4 == 3 else 0)))
    return machines


# Check: the first method against poses.json, and a second method against the first.

def answers(machine):
    """The file's answers as one list: height, tilt, blade pitches; strains where it has them."""
    return [*machine["pose"].values(), *(theta for _, theta in machine.get("blade_deg", [])),
            *machine.get("strain_mm", [])]


def solve_in_doubles(machine):
    """Second method. Plate and ring: scipy's rotations, and a root finder for the turn about the normal that brings the
    mark into its vertical plane. Pose: scipy's least squares. Blade: the closed form p cos + s sin = c."""
    import numpy as np
    from scipy.optimize import brentq, least_squares
    from scipy.spatial.transform import Rotation

    def ebar(bearing):
        return np.array([np.sin(bearing), np.cos(bearing), 0])

    def place(pose, mark):
        turn = Rotation.from_rotvec([-pose[2], pose[1], 0])
        if mark is not None:
            normal, aside = turn.apply([0, 0, 1]), ebar(mark + np.pi / 2)
            spun = lambda spin: Rotation.from_rotvec(spin * normal) * turn
            turn = spun(brentq(lambda spin: aside @ spun(spin).apply(ebar(mark)), -1, 1, xtol=1e-16, rtol=1e-15))
        return lambda point: turn.apply(point) + [0, 0, pose[0]]

    legs = machine["legs"]
    floats = lambda strings: np.array([float(s) for s in strings])
    balls = [leg["ball_radius_mm"] * ebar(np.radians(leg["bearing_deg"])) + [0, 0, leg["offset_mm"]] for leg in legs]
    links = np.array([leg["link_mm"] for leg in legs])
    pin = None if machine["guide_deg"] is None else np.radians(machine["guide_deg"])

    def strains(pose, arms):
        at = place(pose, pin)
        tips = [floats(leg["shaft_mm"]) + Rotation.from_rotvec(q * floats(leg["axis"])).apply(
            leg["arm_mm"] * floats(leg["arm_dir"])) for leg, q in zip(legs, arms)]
        return np.array([np.linalg.norm(tip - at(ball)) for tip, ball in zip(tips, balls)]) - links

    def jacobian(pose, arms):
        """Central differences of fourth order: scipy's own are too coarse where the strains do not vanish."""
        step = 1e-3
        f = lambda shift: strains(pose + step * shift, arms)
        return np.transpose([(8 * (f(d) - f(-d)) - (f(2 * d) - f(-2 * d))) / (12 * step) for d in np.eye(3)])

    steps = 17
    final = np.radians(machine["arms_deg"])
    pose = np.array([machine["height_neutral_mm"], 0, 0])
    for k in range(steps + 1):
        pose = least_squares(strains, pose, jacobian, args=(k / steps * final,), method="lm",
                             xtol=1e-15, ftol=1e-15, gtol=1e-15).x
    for _ in range(8):  # Gauss-Newton: the solver stops where the sum of squares no longer falls, at half its digits
        pose = pose - np.linalg.lstsq(jacobian(pose, final), strains(pose, final), rcond=None)[0]

    def horn(grip, psi, pose):
        """Both blade pitches at which the pitch link fits."""
        lead = ebar(psi + np.radians(90 if grip["turn"] == "clockwise" else -90))
        ring_ball = place(pose, psi + np.radians(grip["driver_deg"]))(
            grip["ring_radius_mm"] * ebar(psi + np.radians(grip["phase_deg"])) + [0, 0, grip.get("ring_offset_mm", 0)])
        apart = np.array([0, 0, grip["hub_height_mm"]]) + grip["horn_x_mm"] * ebar(psi) - ring_ball
        q = grip["horn_mm"] * (1 if grip["horn"] == "leading" else -1)
        p, s = 2 * q * apart @ lead, 2 * q * apart[2]
        c = float(grip["link_mm"]) ** 2 - apart @ apart - q * q
        middle, half = np.arctan2(s, p), np.arccos(c / np.hypot(p, s))
        return [np.angle(np.exp(1j * (middle + sign * half - np.radians(grip.get("rest_deg", 0))))) for sign in (1, -1)]

    thetas = []
    for psi, _ in machine.get("blade_deg", []):
        grip = machine["grip"]
        neutral = horn(grip, np.radians(psi), (machine["height_neutral_mm"], 0, 0))
        branch = np.argmin(np.abs(np.array(neutral) - np.radians(grip.get("neutral_deg", 0))))
        thetas.append(np.degrees(horn(grip, np.radians(psi), pose)[branch]))
    fight = list(strains(pose, final)) if "strain_mm" in machine else []
    return [pose[0], *np.degrees(pose[1:]), *thetas, *fight]


def check(poses, heads):
    differ = lambda got, machine: max(abs(g - mpf(w)) for g, w in zip(got, answers(machine), strict=True))
    first = [differ([pose[0], deg(pose[1]), deg(pose[2]), *map(deg, thetas)], machine)
             for machine in poses for pose, _, thetas, _ in [solve(machine)]]
    print(f"poses.json, {len(first)} machines solved by this script: largest difference {float(max(first)):.1e}")
    failed = max(first) > 1e-15
    for name, machines in (("poses.json", poses), ("heads.json", heads)):
        worst = max(differ(solve_in_doubles(machine), machine) for machine in machines)
        print(f"{name}, {len(machines)} machines solved in doubles: largest difference {float(worst):.1e}")
        failed |= worst > 1e-9
    return failed


def main():
    mp.dps = DIGITS
    heads = HERE / "heads.json"
    if sys.argv[1:2] == ["--check"]:
        sys.exit(check(json.loads(Path(sys.argv[2]).read_text()), json.loads(heads.read_text())))
    heads.write_text("[\n" + ",\n".join(json.dumps(m) for m in generate()) + "\n]\n")


if __name__ == "__main__":
    main()
