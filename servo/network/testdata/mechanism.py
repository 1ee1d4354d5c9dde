"""Networks of bodies and links: the constraint equations as they stand, and their solution at 40 digits.

A body's pose is a map from points as drawn at neutral to space: a chain of rotations and shifts, each carried by the body
that the next one is on. A link is a distance. Derivatives are differences. Nothing here is shared with the library under
test. A case is a dict with the fields that README.md describes; millimetres and degrees in it, radians inside.

Every function takes a context of mpmath: fp, which has doubles, to follow a case from neutral; mp for the solution itself.
"""

import math

import numpy as np
from mpmath import fp, mp

STEPS = 40          # from neutral to the final inputs, in doubles
DIGITS = 40         # of the solution
PRINTED = 18        # digits written

mp.dps = DIGITS + 10


class Rejected(Exception):
    pass


# Vectors are tuples.

def add(*vs):
    return tuple(map(sum, zip(*vs)))


def times(k, v):
    return tuple(k * x for x in v)


def sub(v, w):
    return tuple(x - y for x, y in zip(v, w))


def dot(v, w):
    return sum(x * y for x, y in zip(v, w))


def cross(v, w):
    return (v[1] * w[2] - v[2] * w[1], v[2] * w[0] - v[0] * w[2], v[0] * w[1] - v[1] * w[0])


def norm(v, c=fp):
    return c.sqrt(dot(v, v))


def unit(v, c=fp):
    return times(1 / norm(v, c), v)


def bearing(degrees, c=fp):
    """Level unit vector, clockwise from y seen from above."""
    return (c.sin(rad(degrees, c)), c.cos(rad(degrees, c)), c.mpf(0))


def rad(degrees, c=fp):
    return c.mpf(degrees) * c.pi / 180


Z = (0, 0, 1)


# Constraint equations.

def turned(axis, angle, v, c):
    """Turn v right-handed about a unit axis."""
    s, k = c.sin(angle), c.cos(angle)
    return add(times(k, v), times(s, cross(axis, v)), times((1 - k) * dot(axis, v), axis))


def tilted(normal, mark, v, c):
    """Lay a vector of the level plate into the plate that is square to a unit normal.

    The mark, drawn at that bearing, stays in the vertical plane of the bearing. A plate without a mark takes the smallest
    turn that carries z to the normal.
    """
    if mark is None:
        w = cross(Z, normal)
        once = cross(w, v)
        return add(v, once, times(1 / (1 + normal[2]), cross(w, once)))
    ahead = bearing(mark, c)
    aside = cross(ahead, Z)                                     # a right angle clockwise of it, seen from above
    p = unit(sub(times(normal[2], ahead), times(dot(normal, ahead), Z)), c)
    return add(times(dot(v, ahead), p), times(dot(v, aside), cross(p, normal)), times(v[2], normal))


class Network:
    def __init__(self, case, c):
        self.c = c
        vector = lambda xs: tuple(c.mpf(x) for x in xs)
        self.bodies, self.unknowns = [], []             # unknowns: pairs of a body and the number of its coordinate
        self.heights = {b["name"]: c.mpf(b["height_mm"]) for b in case["bodies"] if b["kind"] == "plate"}
        for body in case["bodies"]:
            body = dict(body)
            if body["kind"] in ("crank", "slider"):
                body["point"], body["axis"] = vector(body["point_mm"]), unit(vector(body["axis"]), c)
            self.bodies.append(body)
            if body["kind"] != "ring" and not body.get("input"):
                self.unknowns += [(body["name"], i) for i in range(3 if body["kind"] == "plate" else 1)]
        self.links = [tuple((end["body"], vector(end["at_mm"])) for end in (link["a"], link["b"])) for link in case["links"]]
        self.lengths = [c.mpf(link["length_mm"]) for link in case["links"]]
        self.stiffness = [c.mpf(link.get("stiffness", 1)) for link in case["links"]]

    def neutral(self):
        return [self.heights[name] if name in self.heights and i == 0 else self.c.mpf(0) for name, i in self.unknowns]

    def inputs(self, case, part=1):
        """The inputs of a case, or a part of them, in radians and millimetres."""
        cranks = {b["name"] for b in self.bodies if b["kind"] == "crank"}
        return {name: part * (rad(q, self.c) if name in cranks else self.c.mpf(q)) for name, q in case["inputs"].items()}

    def poses(self, inputs, x):
        """Return for each body the map from points as drawn at neutral to space."""
        c, at = self.c, {}
        for (name, i), value in zip(self.unknowns, x):
            at.setdefault(name, []).append(value)
        at.update((name, [q]) for name, q in inputs.items())
        pose = {"": lambda p: p}
        for body in self.bodies:
            pose[body["name"]] = self.pose(body, at, pose)
        return pose

    def pose(self, body, at, pose):
        c = self.c
        if body["kind"] == "crank":
            on, point, axis, (angle,) = pose[body["on"]], body["point"], body["axis"], at[body["name"]]
            return lambda p: on(add(point, turned(axis, angle, sub(p, point), c)))
        if body["kind"] == "slider":
            on, axis, (way,) = pose[body["on"]], body["axis"], at[body["name"]]
            return lambda p: on(add(p, times(way, axis)))
        plate = body["on"] if body["kind"] == "ring" else body["name"]
        mark, drawn = body["mark_deg"], times(self.heights[plate], Z)
        height, nx, ny = at[plate]
        if nx * nx + ny * ny > 0.75:
            raise Rejected("the plate tilts too far")
        normal, centre = (nx, ny, c.sqrt(1 - nx * nx - ny * ny)), times(height, Z)
        return lambda p: add(centre, tilted(normal, mark, sub(p, drawn), c))

    def spans(self, inputs, x):
        """Vectors from the second ball of each link to the first."""
        pose = self.poses(inputs, x)
        return [sub(pose[a](p), pose[b](q)) for (a, p), (b, q) in self.links]

    def strains(self, inputs, x):
        return [norm(v, self.c) - length for v, length in zip(self.spans(inputs, x), self.lengths)]

    def square(self):
        return len(self.links) == len(self.unknowns)


def difference(f, x, h):
    """Columns of the derivatives of f, a list, by central differences."""
    columns = []
    for i in range(len(x)):
        up, down = ([v + s * h * (i == j) for j, v in enumerate(x)] for s in (1, -1))
        columns.append([(a - b) / (2 * h) for a, b in zip(f(up), f(down))])
    return columns


# Following a case from neutral, in doubles.

def scaled(net, inputs, x):
    """Derivatives of the strains by the coordinates, each column divided by the speed at which its balls move apart.

    For more links than coordinates, rows are weighted by the root of the stiffness. The determinant (of a table higher than
    wide, the root of that of J'J) is 1 at best, and 0 at a dead centre.
    """
    spans = lambda x: [k for v in net.spans(inputs, x) for k in v]
    speed = np.array(difference(spans, x, 1e-5)).T
    along = np.array([unit(v) for v in net.spans(inputs, x)])
    weight = np.sqrt(np.array([1.0] * len(along) if net.square() else net.stiffness))
    speed = speed.reshape(len(along), 3, len(x)) * weight[:, None, None]
    columns = np.sqrt((speed ** 2).sum(axis=(0, 1)))
    if (columns < 1e-6).any():
        raise Rejected("a coordinate moves no ball")
    return np.einsum("ki,kij->kj", along, speed) / columns


def determinant(j):
    if j.shape[0] == j.shape[1]:
        return float(np.linalg.det(j))
    return float(np.sqrt(max(0.0, np.linalg.det(j.T @ j))))


def step(net, inputs, x):
    """Newton's method, for more links than coordinates Gauss's, in doubles."""
    weight = np.sqrt(np.array(net.stiffness))
    for _ in range(60):
        try:
            j = np.array(difference(lambda y: net.strains(inputs, y), x, 1e-5)).T
            f = np.array(net.strains(inputs, x))
            if not (np.isfinite(j).all() and np.isfinite(f).all()):
                raise Rejected("not finite")
            dx = -np.linalg.lstsq(j * weight[:, None], f * weight, rcond=None)[0]
        except (ValueError, TypeError, ZeroDivisionError, np.linalg.LinAlgError) as err:
            raise Rejected(str(err))
        x = [float(a + b) for a, b in zip(x, dx)]
        if np.abs(dx).max() < 1e-9:
            return x
    raise Rejected("no solution")


def follow(case, steps=STEPS, within=None):
    """Return the coordinates at the final inputs, the smallest scaled determinant on the way, and the smallest singular
    value. A change of the determinant's sign is refused. within, of network and coordinates, may refuse a step."""
    net = Network(case, fp)
    x, sign, margin, weakest = net.neutral(), 0, math.inf, math.inf
    for k in range(steps + 1):
        inputs = net.inputs(case, k / steps)
        before, x = x, step(net, inputs, x)
        if k > 0 and max(abs(a - b) for a, b in zip(x, before)) > 5:
            raise Rejected("a jump")
        j = scaled(net, inputs, x)
        d = determinant(j)
        sign = sign or math.copysign(1, d)
        margin, weakest = min(margin, sign * d), min(weakest, float(np.linalg.svd(j, compute_uv=False)[-1]))
        if margin <= 1e-6:
            raise Rejected("dead centre")
        if within:
            within(net, x)
    return x, margin, weakest


# Solution at 40 digits.

def polish(net, inputs, x):
    """Newton's method at the digits of mp, with the derivatives as they are at the start: each step gains a dozen digits."""
    x = [mp.mpf(v) for v in x]
    if net.square():
        f = lambda y: net.strains(inputs, y)
        table = mp.matrix(difference(f, x, mp.mpf(10) ** -15)).T
    else:
        f = lambda y: slope(net, inputs, y)
        table = mp.matrix(difference(f, x, mp.mpf(10) ** -15)).T
        try:
            mp.cholesky((table + table.T) / 2)
        except ValueError:
            raise Rejected("no least sum of squares")
    for _ in range(12):
        dx = mp.lu_solve(table, mp.matrix([-v for v in f(x)]))
        x = [a + b for a, b in zip(x, dx)]
        if max(abs(v) for v in dx) < mp.mpf(10) ** -(DIGITS + 4):
            return x
    raise Rejected("not converged")


def slope(net, inputs, x):
    """Derivatives of half the sum of stiffness times squared strain: 0 at the least sum."""
    digits = mp.dps
    with mp.workdps(2 * digits - 10):
        energy = lambda y: [sum(w * f * f for w, f in zip(net.stiffness, net.strains(inputs, y))) / 2]
        return [d for d, in difference(energy, x, mp.mpf(10) ** -(digits // 2))]


def solve(case, start=None, within=None):
    """Return the coordinates at 40 digits in the units of the file, the strains, and both margins of follow."""
    margins = ()
    if start is None:
        start, *margins = follow(case, within=within)
    net = Network(case, mp)
    x = polish(net, net.inputs(case), start)
    if max(abs(a - b) for a, b in zip(x, start)) > 1e-6:
        raise Rejected("the digits differ from the doubles")
    return x, net.strains(net.inputs(case), x), *margins


def in_degrees(net, x):
    """Coordinates in the units of the file, by body."""
    cranks = {b["name"] for b in net.bodies if b["kind"] == "crank"}
    at = {}
    for (name, i), value in zip(net.unknowns, x):
        at.setdefault(name, []).append(value * 180 / mp.pi if name in cranks else value)
    return {name: values if len(values) > 1 else values[0] for name, values in at.items()}


def solved(case, within=None):
    """The case with its solution filled in, and the smallest singular value on the way."""
    x, strains, margin, weakest = solve(case, within=within)
    net = Network(case, mp)
    show = lambda v: [show(k) for k in v] if isinstance(v, list) else mp.nstr(mp.chop(v, mp.mpf(10) ** -36), PRINTED)
    solution = {"coordinates": {name: show(v) for name, v in in_degrees(net, x).items()}}
    if not net.square():
        solution["strain_mm"] = show(strains)
    solution["margin"] = float(f"{margin:.4g}")
    return {**case, "solution": solution}, weakest
