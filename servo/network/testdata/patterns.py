"""Networks of the patterns that are met on rotor heads, and of published mechanisms. All dimensions of heads are invented."""

import math

from mechanism import Network, bearing, fp, sub, norm

X, Y, Z = (1, 0, 0), (0, 1, 0), (0, 0, 1)


def crank(name, point, axis, on="", input=False):
    return {"name": name, "kind": "crank", "on": on, "point_mm": list(point), "axis": list(axis), "input": input}


def slider(name, point, axis, on="", input=False):
    return {**crank(name, point, axis, on, input), "kind": "slider"}


def plate(height, mark):
    return {"name": "plate", "kind": "plate", "height_mm": height, "mark_deg": mark}


def ring(mark):
    return {"name": "ring", "kind": "ring", "on": "plate", "mark_deg": mark}


def link(name, a, at, b, to, length=None, stiffness=None):
    """A link between a point of body a and a point of body b; without a length it fits at neutral."""
    made = {"name": name, "a": {"body": a, "at_mm": list(at)}, "b": {"body": b, "at_mm": list(to)},
            "length_mm": norm(sub(at, to)) if length is None else length}
    return made if stiffness is None else {**made, "stiffness": stiffness}


def settings(name, source, bodies, links, *inputs):
    """One case for each setting of the inputs, given in the order of the bodies."""
    driven = [b["name"] for b in bodies if b.get("input")]
    return [{"name": f"{name}, setting {i}", "source": source, "bodies": bodies, "links": links,
             "inputs": dict(zip(driven, values, strict=True))} for i, values in enumerate(inputs, 1)]


def around(degrees, radius, height):
    """A point at a bearing, to a thousandth of a millimetre."""
    x, y, _ = bearing(degrees)
    return [round(radius * x, 3), round(radius * y, 3), height]


INVENTED = "invented dimensions"


def direct(bearings, mark, links, stiffness=None):
    """Servo arms under the plate balls, pointing inward, each with a link to its ball; links: their lengths."""
    bodies, made = [], []
    for i, (b, length) in enumerate(zip(bearings, links), 1):
        ball, tip = around(b, 27, 63), around(b, 29.5, 22)
        shaft = around(b, 44, 22)
        x, y, _ = bearing(b)                       # the shaft: turning about it raises a tip that points inward
        bodies.append(crank(f"servo {i}", shaft, [-y, x, 0], input=True))
        made.append(link(f"link {i}", f"servo {i}", tip, "plate", ball, length, stiffness and stiffness[i - 1]))
    return [*bodies, plate(63, mark)], made


def three_legs():
    lengths = (41.05, 41.2, 41.1)
    cases = settings("pattern a, three direct legs", INVENTED, *direct((0, 120, 240), 180, lengths),
                     (0, 0, 0), (12.5, 12.5, 12.5), (20, -14, 3.5), (-26, 17, 9))
    cases += settings("pattern a, three direct legs, no mark", INVENTED, *direct((0, 120, 240), None, lengths),
                      (20, -14, 3.5), (-26, 17, 9))
    return cases + settings("pattern a, three direct legs at 140 degrees", INVENTED, *direct((180, 40, 320), 90, lengths),
                            (20, -14, 3.5), (-26, 17, 9))


def four_legs():
    """Four arms on three freedoms: their angles do not agree."""
    return settings("pattern b, four direct legs", INVENTED,
                    *direct((0, 90, 180, 270), 180, (41.05, 41.2, 41.1, 41.0), (1, 1.25, 0.8, 1.5)),
                    (0, 0, 0, 0), (12, 14, 13, 15), (18, -4, -16, 6), (-9, -20, 11, 17.5))


def standing_cranks():
    """Cyclic cranks on the frame, which stand still while the plate rises past them.

    A fork lifts a sleeve on the mast, and the sleeve the centre of the plate. Level links push and pull balls below the
    plate: right and left by two cranks of one servo, front and back by two of another. With one crank for each, the links
    are as many as the freedoms.
    """
    low = 40                                                # height of the balls that hang below the plate at 60
    # name, the crank's shaft, its axis, the ball of the plate, the crank's ball to the plate, its ball to the servo
    cyclic = [("right crank", [75, 4, 26], Y, [14, 4, low], [75, 4, low], [89, 4, 26]),
              ("left crank", [-75, 4, 26], Y, [-14, 4, low], [-75, 4, low], [-75, 24, 39]),
              ("front crank", [-3, 78, 25], X, [-3, 14, low], [-3, 78, low], [-3, 94, 25]),
              ("back crank", [-3, -78, 25], X, [-3, -14, low], [-3, -78, low], [-23, -78, 40])]
    # the servo's shaft and axis, and its arm to the link of each crank
    servos = [("right cyclic servo", [75, 9, -8], Y, {"right crank": [89, 9, -8], "left crank": [75, 24, 5]}),
              ("forward cyclic servo", [-8, 78, -6], X, {"front crank": [-8, 94, -6], "back crank": [-23, 78, 9]})]

    def machine(both):
        stiff = (lambda w: w) if both else (lambda w: None)
        bodies = [crank("collective servo", [20, -52, -5], X, input=True)]
        bodies += [crank(name, shaft, axis, input=True) for name, shaft, axis, _ in servos]
        bodies += [crank("fork", [0, -46, 28], X), slider("sleeve", [0, 0, 28], Z)]
        links = [link("collective link", "collective servo", [20, -36, -5], "fork", [20, -30, 28], 33.3, stiff(1)),
                 link("fork link", "fork", [9, 0, 28], "sleeve", [9, 0, 40], stiffness=stiff(2)),
                 link("centre link", "sleeve", [0, 0, 42], "plate", [0, 0, 60], stiffness=stiff(5))]
        for name, shaft, axis, ball, tip, foot in cyclic:
            second = name in ("left crank", "back crank")
            if second and not both:
                continue
            bodies.append(crank(name, shaft, axis))
            servo, arm = next((s, arms[name]) for s, _, _, arms in servos if name in arms)
            links += [link(f"{name} link", servo, arm, name, foot, stiffness=stiff(1)),
                      link(f"{name} rod", name, tip, "plate", ball, stiffness=stiff(0.75 if second else 1))]
        return [*bodies, plate(60, 180)], links

    inputs = ((0, 0, 0), (12, 0, 0), (-9, 11, -7), (7, -8, 13))
    return (settings("pattern c, standing cranks push and pull four balls", INVENTED, *machine(True), *inputs)
            + settings("pattern c, standing cranks, one for each cyclic", INVENTED, *machine(False), *inputs))


def riding_cranks():
    """Cyclic cranks that ride on the collective lever; one servo turns left and right cranks, another the front crank.

    In the first machine the servos' links run beside the lever, so that collective turns the cranks little. In the second
    they come from below, so that collective turns the cranks.
    """
    def machine(below):
        servos = [crank("collective servo", [30, -80, -4], X, input=True)]
        if below:
            servos += [crank("right cyclic servo", [0, -25, -12], Y, input=True),
                       crank("forward cyclic servo", [-9, -18, -12], X, input=True)]
            feet = {"right crank": ([22, -25, -12], [26, -25, 30]), "left crank": ([-22, -25, -12], [-26, -25, 30]),
                    "front crank": ([-9, -3, -12], [-6, -4, 29])}
        else:
            servos += [crank("right cyclic servo", [0, -66, 17], Z, input=True),
                       crank("forward cyclic servo", [-9, -65, 31], X, input=True)]
            feet = {"right crank": ([17, -66, 17], [26, -2, 17]), "left crank": ([-17, -66, 17], [-26, -2, 17]),
                    "front crank": ([-9, -65, 15], [-6, 22, 16])}
        bodies = [*servos, crank("lever", [0, -62, 30], X), crank("right crank", [26, -2, 31], X, "lever"),
                  crank("left crank", [-26, -2, 31], X, "lever"), crank("front crank", [0, 22, 30], X, "lever"),
                  plate(62, 180)]
        links = [link("collective link", "collective servo", [30, -64, -4], "lever", [30, -44, 30], 39.6),
                 link("right crank rod", "right crank", [26, 12, 31], "plate", [26, 9, 60]),
                 link("left crank rod", "left crank", [-26, 12, 31], "plate", [-26, 9, 60]),
                 link("front crank rod", "front crank", [0, 36, 30], "plate", [0, 31, 61])]
        links += [link(f"{name} link", "forward cyclic servo" if name == "front crank" else "right cyclic servo", arm, name, foot)
                  for name, (arm, foot) in feet.items()]
        return bodies, links

    return (settings("pattern d, cranks riding on the collective lever", INVENTED, *machine(False),
                     (0, 0, 0), (15, 0, 0), (-12, 9, 6), (10, -12, -8))
            + settings("pattern d, cranks riding on the collective lever, links from below", INVENTED, *machine(True),
                       (0, 0, 0), (6, 0, 0), (-5, 9, 6), (4, -8, -7)))


def all_patterns():
    return [case for make in (three_legs, four_legs, standing_cranks, riding_cranks) for case in make()]
