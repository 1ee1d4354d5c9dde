"""Random networks. Every number is rounded to the double that the file will hold before anything is solved from it.

A network is drawn from its last bodies back to its inputs. A body without a link for one of its freedoms gets a link to a
ball of an older body, or of a new one, which is an input or needs a link in its turn.
"""

import copy
import math

from mpmath import mp

from mechanism import (STEPS, Network, Rejected, Z, add, bearing, cross, dot, follow, fp, norm, solved, sub, times, turned,
                       unit)
from patterns import crank, link, plate, ring, slider

MAX_CRANK, MAX_SLIDER, MAX_TILT = math.radians(60), 20, math.sin(math.radians(20))
AWAY, NEAR = 0.05, 0.005    # smallest singular value, away from dead centres and near them


def rounded(v, digits=2):
    return tuple(round(x, digits) + 0.0 for x in v)


def any_direction(rng):
    while True:
        v = [rng.uniform(-1, 1) for _ in range(3)]
        if 0.2 < norm(v) < 1:
            return unit(v)


def square_to(rng, v):
    return unit(cross(v, any_direction(rng)))


def near(rng, v, degrees):
    """A unit vector within an angle of v."""
    return turned(square_to(rng, v), math.radians(rng.uniform(0, degrees)), unit(v), fp)


class Drawing:
    def __init__(self, rng, inputs, freedoms, misfit):
        self.rng, self.inputs, self.freedoms, self.misfit = rng, inputs, freedoms, misfit
        self.bodies, self.links, self.needs = [], [], []    # needs: body, its ball, the way that ball moves
        self.by_name = {}

    def add(self, body):
        self.bodies.append(body)
        self.by_name[body["name"]] = body
        return body["name"]

    def carriers(self, name):
        while name:
            yield name
            name = self.by_name[name].get("on", "")

    def way(self, name, at):
        """The way a point of a crank or slider moves, with its own coordinate, and how far for one unit."""
        body = self.by_name[name]
        if body["kind"] == "slider":
            return body["axis"], 1.0
        v = cross(body["axis"], sub(at, body["point_mm"]))
        return unit(v), norm(v)

    def connect(self, a, at, b, to):
        length = round(norm(sub(at, to)) + self.misfit * self.rng.uniform(-1, 1), 3)
        self.links.append(link(f"link {len(self.links) + 1}", a, at, b, to, length))

    def new_body(self, at, along, driven, avoid):
        """A crank or slider with a ball at a point, which moves along a direction. A driven one needs a link."""
        rng = self.rng
        fit = [""] * 4 + [b["name"] for b in self.bodies
                          if b["kind"] in ("crank", "slider") or (b["kind"] == "plate" and rng.random() < 0.3)]
        on = rng.choice([name for name in fit if avoid not in self.carriers(name)])
        along = near(rng, along, 30)
        kind = "crank" if rng.random() < 0.8 else "slider"
        name = f"{'driven' if driven else 'input'} {kind} {1 + sum(b['kind'] in ('crank', 'slider') for b in self.bodies)}"
        if kind == "crank":
            arm = times(rng.uniform(8, 22), square_to(rng, along))
            axis = unit(cross(arm, along))
            point = rounded(add(sub(at, arm), times(rng.uniform(-6, 6), axis)))
            self.add(crank(name, point, axis, on, not driven))
            other = add(point, times(rng.uniform(8, 22), turned(axis, rng.uniform(0, 2 * math.pi), unit(arm), fp)),
                        times(rng.uniform(-6, 6), axis))
        else:
            self.add(slider(name, rounded(add(at, times(10, any_direction(rng)))), along, on, not driven))
            other = add(at, times(rng.uniform(5, 20), any_direction(rng)))
        if driven:
            other = rounded(other)
            self.needs.append((name, other, self.way(name, other)[0]))
        return name

    def old_body(self, name, ball, way):
        """An older crank or slider with a ball from which a link drives a ball along its way; None if there is none."""
        rng = self.rng
        for _ in range(60):
            body = rng.choice([b for b in self.bodies if b["kind"] in ("crank", "slider")] or [None])
            if body is None or body["name"] == name or name in self.carriers(body["name"]) or body["name"] in self.carriers(name):
                continue
            at = rounded(add(body["point_mm"], times(rng.uniform(8, 35), any_direction(rng))))
            span = sub(at, ball)
            moves, speed = self.way(body["name"], at)
            if (20 < norm(span) < 90 and speed > (6 if body["kind"] == "crank" else 0)
                    and abs(dot(moves, unit(span))) > 0.5 and abs(dot(way, unit(span))) > 0.7):
                return body["name"], at
        return None

    def satisfy(self):
        rng = self.rng
        while self.needs:
            name, ball, way = self.needs.pop(rng.randrange(len(self.needs)))
            found = self.old_body(name, ball, way) if rng.random() < 0.3 or self.inputs + self.freedoms == 0 else None
            if not found:
                if self.inputs + self.freedoms == 0:
                    raise Rejected("nothing to link to")
                span = times(rng.uniform(20, 60) * rng.choice([-1, -1, 1]), near(rng, way, 35))
                at = rounded(add(ball, span))
                driven = self.freedoms > 0 and (self.inputs == 0 or rng.random() < 0.65)
                if driven:
                    self.freedoms -= 1
                else:
                    self.inputs -= 1
                found = self.new_body(at, span, driven, name), at
            self.connect(name, ball, *found)

    def draw_plate(self):
        rng = self.rng
        height = round(rng.uniform(40, 90), 2)
        mark = None if rng.random() < 0.25 else round(rng.uniform(0, 360), 1)
        self.add(plate(height, mark))
        first = rng.uniform(0, 360)
        for b in rng.choice([(0, 120, 240), (0, 135, 225), (0, 90, 180)]):
            flat = times(rng.uniform(14, 35), bearing(first + b + rng.uniform(-12, 12)))
            self.needs.append(("plate", rounded(add(flat, times(height + rng.choice([0, rng.uniform(-4, 4)]), Z))), Z))
        self.freedoms -= 3
        return height

    def draw_grips(self, height, count):
        """A rotating ring, and cranks above it that its balls drive."""
        rng = self.rng
        self.add(ring(round(rng.uniform(0, 360), 1)))
        for i in range(count):
            b = rng.uniform(0, 360)
            ball = rounded(add(times(rng.uniform(12, 30), bearing(b)), times(height + rng.choice([0, rng.uniform(-3, 3)]), Z)))
            horn = rounded(add(ball, times(rng.uniform(18, 45), near(rng, Z, 25))))
            arm = times(rng.uniform(9, 17), bearing(rng.uniform(0, 360)))
            name = self.add(crank(f"grip {i + 1}", rounded(sub(horn, arm)), unit(cross(near(rng, Z, 20), arm))))
            self.freedoms -= 1
            self.connect("ring", ball, name, horn)

    def case(self):
        if not any(b.get("input") for b in self.bodies):
            raise Rejected("no input")
        throw = self.rng.uniform(0.3, 1)
        inputs = {b["name"]: round(throw * self.rng.choice([-1, 1]) * self.rng.uniform(0.2, 1) * (35 if b["kind"] == "crank" else 9), 1)
                  for b in self.bodies if b.get("input")}
        bodies = [{**b, **({"axis": [float(x) for x in b["axis"]]} if "axis" in b else {})} for b in self.bodies]
        return {"name": "", "source": "drawn at random", "bodies": bodies, "links": self.links, "inputs": inputs}


def draw_case(rng, inputs, freedoms):
    """A case with so many inputs and freedoms, and as many links as freedoms."""
    drawing = Drawing(rng, inputs, freedoms, misfit=rng.choice([0, 0.3]))
    if freedoms >= 3 and inputs + freedoms >= 6 and rng.random() < 0.75:
        height = drawing.draw_plate()
        drawing.satisfy()
        if drawing.freedoms > 0 and rng.random() < 0.8:
            drawing.draw_grips(height, min(drawing.freedoms, rng.randint(1, 2)))
    while drawing.inputs + drawing.freedoms > 0:
        if drawing.freedoms == 0:
            raise Rejected("inputs left over")
        drawing.freedoms -= 1
        drawing.new_body(rounded(times(40, any_direction(rng))), any_direction(rng), True, None)
        drawing.satisfy()
    return drawing.case()


def within(net, x):
    for (name, i), value in zip(net.unknowns, x):
        kind = next(b["kind"] for b in net.bodies if b["name"] == name)
        limit = {"crank": MAX_CRANK, "slider": MAX_SLIDER, "plate": MAX_TILT}[kind]
        if kind == "plate" and i == 0:
            value, limit = value - net.heights[name], MAX_SLIDER
        if abs(value) > limit:
            raise Rejected("moves too far")


def accept(case, name, weakest):
    """Solve a case, follow it once more in other steps, and name it; refused unless its weakest singular value suits."""
    for steps in (8, STEPS):                    # a rough look first, for speed
        x, margin, weak = follow(case, steps, within)
        if not weakest(weak):
            raise Rejected("margin")
    again, *_ = follow(case, steps=97)
    if max(abs(a - b) for a, b in zip(x, again)) > 1e-7:
        raise Rejected("two steps, two branches")
    return solved({**case, "name": name})[0]


def more_links(rng, case, kind):
    """Add a link to a case: with an input of its own that nearly agrees, or between two balls that keep nearly apart."""
    case = copy.deepcopy(case)
    x, *_ = follow(case, within=within)
    net = Network(case, fp)
    inputs = net.inputs(case)
    pose, drawn = net.poses(inputs, x), {b["name"]: b for b in case["bodies"]}
    still = {b["name"] for b in case["bodies"] if b.get("input") and b["on"] == ""} | {""}
    balls = [(end["body"], tuple(end["at_mm"])) for one in case["links"] for end in (one["a"], one["b"])
             if end["body"] not in still]
    for _ in range(200):
        a, p = rng.choice(balls)
        p = rounded(add(p, rng.choice([(0, 0, 0), times(8, any_direction(rng))])))
        if kind == "input":
            way = sub(pose[a](p), p)
            span = times(rng.uniform(20, 60), near(rng, way if norm(way) > 0.5 else any_direction(rng), 30))
            q = rounded(add(p, span))
            arm = times(rng.uniform(8, 20), square_to(rng, span))
            name = f"input crank {1 + sum(b['kind'] in ('crank', 'slider') for b in case['bodies'])}"
            body = crank(name, rounded(sub(q, arm)), unit(cross(arm, near(rng, span, 25))), "", True)
            body["axis"] = [float(v) for v in body["axis"]]
            turn = lambda angle: add(body["point_mm"], turned(body["axis"], angle, sub(q, body["point_mm"]), fp))
            length = round(norm(span), 3)
            miss = lambda angle: norm(sub(turn(angle), pose[a](p))) - length
            try:
                angle = fp.findroot(miss, (0.0, 0.01))
            except (ValueError, ZeroDivisionError):
                continue
            if not isinstance(angle, float) or abs(angle) > 0.6:
                continue
            case["bodies"].append(body)
            case["inputs"][name] = round(math.degrees(angle) + rng.uniform(-4, 4), 1)
            length = round(length + rng.uniform(-0.3, 0.3), 3)
            b = name
        else:
            b, q = rng.choice(balls + [("", p)])
            q = rounded(add(q, times(rng.uniform(5, 40), any_direction(rng))))
            before, after = norm(sub(p, q)), norm(sub(pose[a](p), pose[b](q)))
            if a == b or before < 15 or abs(before - after) > 1.5:
                continue
            length = round(after + (before - after) * rng.random() + rng.uniform(-0.4, 0.4), 3)
        case["links"].append(link(f"link {len(case['links']) + 1}", a, p, b, q, length))
        for one in case["links"]:
            one["stiffness"] = one.get("stiffness", round(rng.uniform(0.4, 2), 2))
        return case
    raise Rejected("no further link")


def conflict(case):
    return max(abs(mp.mpf(s)) for s in case["solution"]["strain_mm"])


def draw(make):
    """Draw until one is accepted."""
    while True:
        try:
            return make()
        except Rejected:
            pass


SIZES = [(inputs, freedoms) for freedoms in range(2, 11) for inputs in range(1, min(4, freedoms) + 1)]


def size(i, least=2, most=10, inputs=4):
    """Inputs and freedoms of the i-th network: all sizes in turn."""
    fit = [s for s in SIZES if least <= s[1] <= most and s[0] <= inputs]
    return fit[i * 7 % len(fit)]


def away(rng, i):
    return draw(lambda: accept(draw_case(rng, *size(i)), f"random {i}", lambda w: w > AWAY))


def close(rng, i):
    return draw(lambda: accept(draw_case(rng, *size(i, least=3, inputs=2)), f"near a dead centre {i}",
                               lambda w: NEAR < w < AWAY / 2))


def over(rng, i):
    def make():
        case = draw_case(rng, *size(i, most=7, inputs=3))
        for _ in range(1 + (i % 4 == 0)):
            case = more_links(rng, case, "input" if i % 2 and len(case["inputs"]) < 4 else "between")
        case = accept(case, f"more links {i}", lambda w: w > AWAY)
        if not 0.02 < conflict(case) < 1:
            raise Rejected("conflict")
        return case
    return draw(make)
