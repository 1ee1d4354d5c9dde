#!/usr/bin/env python3
"""Writes linkages.json: random linkages solved by a general root finder.

Nothing here is taken from the Go package. A linkage is one equation,

    F(q, y) = (|A(q) - B(y)|^2 - link^2) / link^2 = 0,

with A the driving ball at input q and B the driven one at output y. Outputs are
its roots at 30 digits, slopes are numerical derivatives of those, and the ends of
the travel are where one of F's partial derivatives first vanishes on the curve
F = 0, walked from neutral by arc length. README.md tells the fields.

    python3 linkages.py > linkages.json
"""
import bisect
import json
import math
import random

from mpmath import fp, mp

mp.dps = 30
STEP = 0.004  # of the walk, rad or links
COUNT = 240   # of each type


def add(u, v): return [a + b for a, b in zip(u, v)]
def sub(u, v): return [a - b for a, b in zip(u, v)]
def scale(k, u): return [k * a for a in u]
def dot(u, v): return sum(a * b for a, b in zip(u, v))
def cross(u, v):
    return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]


class Closure:
    """F and its two gradients, in the arithmetic of a context, fp or mp."""

    def __init__(self, spec, ctx):
        self.ctx = ctx
        vec = lambda u: [ctx.mpf(x) for x in u]
        unit = lambda u: scale(1 / ctx.sqrt(dot(u, u)), u)

        def circle(arm):
            n, u = unit(vec(arm["neutral"])), unit(vec(arm["axis"]))
            r = ctx.mpf(arm["radius"])
            return vec(arm["shaft"]), scale(r, n), scale(r, cross(u, n))

        self.driving = circle(spec["driving"])
        self.link = ctx.mpf(spec["driving"]["link"])
        if "driven" in spec:
            self.turns, self.driven = True, circle(spec["driven"])
            self.size = ctx.mpf(spec["driven"]["radius"])
        else:
            self.turns, self.driven = False, (vec(spec["ball"]), unit(vec(spec["along"])))
            self.size = ctx.mpf(1)
        self.radius = ctx.mpf(spec["driving"]["radius"])

    def on(self, circle, x):
        c, s = self.ctx.cos(x), self.ctx.sin(x)
        at = add(circle[0], add(scale(c, circle[1]), scale(s, circle[2])))
        return at, sub(scale(c, circle[2]), scale(s, circle[1]))

    def ends(self, q, y):
        a, da = self.on(self.driving, q)
        if self.turns:
            b, db = self.on(self.driven, y)
        else:
            b, db = add(self.driven[0], scale(y, self.driven[1])), self.driven[1]
        return sub(a, b), da, db

    def F(self, q, y):
        d, _, _ = self.ends(q, y)
        return dot(d, d) / self.link**2 - 1

    def gradient(self, q, y):
        d, da, db = self.ends(q, y)
        return 2 * dot(d, da) / self.link**2, -2 * dot(d, db) / self.link**2


class Linkage:
    """A spec with its neutral output, travel and outputs."""

    def __init__(self, spec):
        self.spec = spec
        self.near, self.exact = Closure(spec, fp), Closure(spec, mp)
        self.scale = 1.0 if self.near.turns else spec["driving"]["link"]
        self.y0 = self.neutral()
        if self.y0 is None or min(self.sines(0, self.y0)) < 0.05:
            raise ValueError("not a linkage to test")
        low, below = self.walk(-1)
        high, above = self.walk(1)
        self.travel = [low[0], low[1], high[0], high[1]]
        self.curve = below[::-1] + [(0.0, self.y0)] + above

    def neutral(self):
        """The root nearest to 0 of those at q = 0."""
        f = lambda y: self.near.F(0.0, y)
        reach = math.pi if self.near.turns else 4 * self.spec["driving"]["link"]
        n = 1000
        grid = [reach * (2 * i / n - 1) for i in range(n + 1)]
        values = [f(y) for y in grid]
        roots = sorted((fp.findroot(f, (grid[i], grid[i + 1]), solver="illinois", tol=1e-26)
                        for i in range(n) if values[i] * values[i + 1] < 0), key=abs)
        if len(roots) != 2 or abs(roots[1]) - abs(roots[0]) < 0.02 * self.scale:
            return None
        return roots[0]

    def sines(self, q, y):
        """Of the angles of transmission at the input and at the output."""
        c = self.near
        fq, fy = c.gradient(q, y)
        return abs(fq) * c.link / (2 * c.radius), abs(fy) * c.link / (2 * c.size)

    def walk(self, sense):
        """Follows F = 0 by arc length from neutral to the first dead centre, or half a turn."""
        c, k = self.near, self.scale
        first = c.gradient(0.0, self.y0)
        sign = sense if first[1] > 0 else -sense
        q, y, points = 0.0, self.y0, []
        step = STEP
        while True:
            fq, fy = c.gradient(q, y)
            fy *= k
            norm = math.hypot(fq, fy)
            p, z = q + sign * step * fy / norm, y - sign * step * k * fq / norm
            for _ in range(3):  # back onto the curve
                gq, gy = c.gradient(p, z)
                gy *= k
                f = c.F(p, z) / (gq * gq + gy * gy)
                p, z = p - f * gq, z - f * k * gy
            gq, gy = c.gradient(p, z)
            turned = [gq * first[0] <= 0, gy * first[1] <= 0]
            if all(turned) or abs(p - q) + abs(z - y) / k > 2 * step:
                step /= 2
                continue
            if any(turned):
                which = 0 if turned[0] else 1
                e = self.exact
                end = mp.findroot(lambda s, t: [e.F(s, t), e.gradient(s, t)[which]], (p, z))
                assert abs(end[0] - p) < 3 * step, "another dead centre"
                return (float(end[0]), ["input", "output"][which]), points
            if abs(p) >= math.pi:
                return (sense * float(mp.pi), "none"), points + [(p, z)]
            points.append((p, z))
            q, y = p, z

    def at(self, q):
        """The output at q, to the working precision."""
        i = min(max(bisect.bisect(self.curve, (float(q),)), 1), len(self.curve) - 1)
        (q0, ya), (q1, yb) = self.curve[i - 1], self.curve[i]
        y = ya + (yb - ya) * (float(q) - q0) / (q1 - q0)
        for _ in range(8):
            y -= self.near.F(float(q), y) / self.near.gradient(float(q), y)[1]
        assert min(ya, yb) - 0.05 * self.scale < y < max(ya, yb) + 0.05 * self.scale
        y = mp.mpf(y)
        return mp.findroot(lambda y: self.exact.F(q, y), (y, y + self.scale * mp.mpf(10)**-9))

    def holds(self, q):
        return 0.95 * self.travel[0] < q < 0.95 * self.travel[2]

    def inside(self, rng):
        low, _, high, _ = self.travel
        return [0.0, round(low * rng.uniform(0.1, 0.95), 6), round(high * rng.uniform(0.1, 0.95), 6)]

    def row(self, q):
        q, y = mp.mpf(q), self.at(mp.mpf(q))
        angles = [mp.asin(min(s, 1)) for s in self.sines(q, y)] + self.stance(q, y)
        return [float(x) for x in [q, y, mp.diff(self.at, q)] + angles]

    def stance(self, q, y):
        """How far the arm has turned past square to its link, both seen along the
        shaft, and how far the link leans out of the arm's plane."""
        d, _, _ = self.exact.ends(q, y)
        _, n, s = self.exact.driving
        bearing = mp.atan2(dot(d, s), dot(d, n))  # of the link, in the arm's plane
        past = q - bearing - mp.pi / 2
        lean = dot(d, cross(n, s)) / self.exact.radius**2 / self.exact.link
        return [past - mp.pi * mp.nint(past / mp.pi), mp.asin(abs(lean))]


def integers(rng, n):
    while True:
        u = [rng.randint(-n, n) for _ in range(3)]
        if any(u):
            return u


def square_to(rng, u, n):
    """An integer vector exactly square to another."""
    while True:
        v = cross(u, integers(rng, n))
        if any(v):
            return v


def arm(rng, shaft, axis, radius):
    return {"shaft": [round(x, 5) for x in shaft], "axis": axis, "neutral": square_to(rng, axis, 4),
            "radius": round(rng.uniform(*radius), 5)}


def unit(u): return scale(1 / math.hypot(*u), u)


def ball(a):
    return add(a["shaft"], scale(a["radius"], unit(a["neutral"])))


def draw_line(rng):
    """An arm that moves a ball on a line: two in five of them in a plane."""
    axis = integers(rng, 5)
    driving = arm(rng, [rng.uniform(-0.03, 0.03) for _ in range(3)], axis, (0.005, 0.03))
    if rng.random() < 0.4:  # a slider-crank, with an offset
        along = square_to(rng, axis, 4)
        across = unit(cross(axis, along))
        to = add(driving["shaft"], add(scale(rng.uniform(0.02, 0.08), unit(along)),
                                       scale(rng.uniform(-0.02, 0.02), across)))
    else:
        along = integers(rng, 5)
        to = add(ball(driving), scale(rng.uniform(0.02, 0.09), unit(integers(rng, 9))))
    to = [round(x, 5) for x in to]
    gap = math.dist(to, ball(driving))
    driving["link"] = round(gap * rng.uniform(0.93, 1.07), 5)
    return {"driving": driving, "ball": to, "along": along}


def draw_arms(rng):
    """Two arms: two in five of them in a plane. One in four has its shafts near
    each other, so that some turn all round."""
    axis = integers(rng, 5)
    driving = arm(rng, [rng.uniform(-0.03, 0.03) for _ in range(3)], axis, (0.005, 0.03))
    apart = rng.uniform(0.002, 0.01) if rng.random() < 0.25 else rng.uniform(0.02, 0.09)
    if rng.random() < 0.4:
        to, other = unit(square_to(rng, axis, 4)), scale(rng.choice([1, -1]), axis)
    else:
        to, other = unit(integers(rng, 9)), integers(rng, 5)
    driven = arm(rng, add(driving["shaft"], scale(apart, to)), other, (0.005, 0.04))
    gap = math.dist(ball(driven), ball(driving))
    driving["link"] = round(gap * rng.uniform(0.93, 1.07), 5)
    return {"driving": driving, "driven": driven}


def linkages(rng, draw):
    found = []
    while len(found) < COUNT:
        try:
            found.append(Linkage(draw(rng)))
        except (ValueError, ZeroDivisionError):
            pass
    return found


def chains(rng, lines, arms):
    """Arms behind each other, some with a line at the end, by their numbers."""
    found = []
    while len(found) < COUNT:
        numbers = [rng.randrange(COUNT) for _ in range(rng.choice([2, 3]))]
        ends_on_line = rng.random() < 0.6
        members = [arms[i] for i in numbers]
        if ends_on_line:
            members[-1] = lines[numbers[-1]]

        def through(q):
            for m in members:
                if not m.holds(q):
                    raise ValueError
                q = m.at(q)
            return q

        try:
            through(mp.mpf(0))
            low, _, high, _ = members[0].travel
            rows = []
            for end in low, high:
                q = round(0.7 * end * rng.random(), 6)
                rows.append([q, float(through(mp.mpf(q))), float(mp.diff(through, mp.mpf(q)))])
        except ValueError:
            continue
        found.append({"arms": numbers[:-1] if ends_on_line else numbers,
                      "line": numbers[-1] if ends_on_line else None, "at": rows})
    return found


def main():
    rng = random.Random(20261125)
    lines, arms = linkages(rng, draw_line), linkages(rng, draw_arms)
    table = {name: [dict(m.spec, travel=m.travel, at=[m.row(q) for q in m.inside(rng)]) for m in members]
             for name, members in (("lines", lines), ("arms", arms))}
    table["chains"] = chains(rng, lines, arms)
    parts = [json.dumps(name) + ":[\n" + ",\n".join(json.dumps(r, separators=(",", ":")) for r in rows) + "\n]"
             for name, rows in table.items()]
    print("{" + ",\n".join(parts) + "}")


if __name__ == "__main__":
    main()
