"""Networks of the patterns that are met on rotor heads. All dimensions are invented."""

from mechanism import bearing, norm, sub

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
        ball, tip, shaft = around(b, 27, 63), around(b, 29.5, 22), around(b, 44, 22)
        x, y, _ = bearing(b)
        bodies.append(crank(f"servo {i}", shaft, [-y, x, 0], input=True))   # positive raises a tip that points inward
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


def rocker():
    """A rocker that lifts the plate, and cranks to its left and right.

    In the first machine the rocker lifts the back of the plate, and the cranks are on the frame. In the second the rocker
    lifts a sleeve on the mast, which carries the cranks; rods from below hold them.
    """
    bodies = [crank("rocker servo", [10, -70, -6], X, input=True), crank("right servo", [62, 14, -4], Y, input=True),
              crank("left servo", [-60, 11, -4], Y, input=True), crank("rocker", [0, -55, 27], X),
              crank("right crank", [46, 8, 28], Y), crank("left crank", [-45, 6, 29], Y), plate(64, 0)]
    links = [link("rocker servo link", "rocker servo", [10, -86, -6], "rocker", [8, -79, 27], 34.0),
             link("right servo link", "right servo", [76, 14, -4], "right crank", [64, 10, 28], 34.6),
             link("left servo link", "left servo", [-75, 11, -4], "left crank", [-62, 8, 29], 35.7),
             link("rocker rod", "rocker", [0, -27, 27], "plate", [0, -29, 64]),
             link("right crank rod", "right crank", [27, 8, 28], "plate", [25, 12, 65]),
             link("left crank rod", "left crank", [-27, 6, 29], "plate", [-25, 13, 63])]
    cases = settings("pattern e, a rocker lifts the back, cranks left and right", INVENTED, bodies, links,
                     (0, 0, 0), (15, -18, 16), (-12, -9, -14), (9, 17, 4))
    bodies = [crank("rocker servo", [10, -70, -6], X, input=True), crank("right servo", [46, 2, -9], Y, input=True),
              crank("left servo", [-46, -3, -9], Y, input=True), crank("front servo", [5, 50, -8], X, input=True),
              crank("rocker", [0, -55, 27], X), slider("sleeve", [0, 0, 36], Z), crank("right crank", [21, 0, 34], Y, "sleeve"),
              crank("left crank", [-21, 0, 34], Y, "sleeve"), crank("front crank", [0, 21, 33], X, "sleeve"), plate(64, 180)]
    links = [link("rocker servo link", "rocker servo", [10, -86, -6], "rocker", [8, -79, 27], 34.0),
             link("rocker link", "rocker", [0, -9, 27], "sleeve", [0, -9, 42])]
    for name, shaft, inner, ball, outer, arm in (
            ("right", [21, 0, 34], [31, 1, 34], [26, 2, 63], [39, 1, 34], [33, 2, -9]),
            ("left", [-21, 0, 34], [-31, -1, 34], [-26, 1, 64], [-39, -1, 34], [-33, -3, -9]),
            ("front", [0, 21, 33], [-1, 31, 33], [1, 27, 65], [1, 39, 33], [5, 36, -8])):
        links += [link(f"{name} crank rod", f"{name} crank", inner, "plate", ball),
                  link(f"{name} servo link", f"{name} servo", arm, f"{name} crank", outer)]
    return cases + settings("pattern e, a rocker lifts a sleeve that carries the cranks", INVENTED, bodies, links,
                            (0, 0, 0, 0), (9, 0, 0, 0), (-8, 11, 9, -7), (6, -10, 12, 8))


def push_pull():
    """One crank, two links, two mixers and two rods push and pull opposite balls of the plate.

    Crank, mixers and plate are parallelograms: they turn by one angle. The height of the plate is the sleeve's. So there
    is one link more than freedoms, and it agrees, unless the front servo tilts the plate too.
    """
    bodies = [crank("collective servo", [0, -52, 8], X, input=True), slider("sleeve", [0, 0, 24], Z),
              crank("right cyclic crank", [2, -25, 10], Y, "sleeve", True), crank("front servo", [0, 14, 24], X, "sleeve", True),
              crank("right mixer", [14, 0, 24], Y, "sleeve"), crank("left mixer", [-14, 0, 24], Y, "sleeve"), plate(60, 180)]
    links = [link("collective link", "collective servo", [0, -12, 8], "sleeve", [0, -12, 38]),
             link("centre link", "sleeve", [0, 0, 24], "plate", [0, 0, 60]),
             link("right link", "right cyclic crank", [2, -25, 22], "right mixer", [14, -5, 36]),
             link("left link", "right cyclic crank", [2, -25, -2], "left mixer", [-14, -5, 12]),
             link("right rod", "right mixer", [38, 0, 24], "plate", [24, 0, 60]),
             link("left rod", "left mixer", [-38, 0, 24], "plate", [-24, 0, 60]),
             link("front rod", "front servo", [0, 38, 24], "plate", [0, 24, 60])]
    for one, w in zip(links, (1, 2, 1, 1.25, 0.75, 1.5, 1)):
        one["stiffness"] = w
    return settings("pattern f, push-pull pair through mixers", INVENTED, bodies, links,
                    (0, 0, 0), (12, 10, 0), (-8, -15, 0), (9, 0, 8), (-11, 9, 7))


def parallelogram():
    """A parallelogram of rods keeps the plate level under collective; with one rod out of parallel it does not.

    A yoke rides on the lever, under the plate. A rod beside the lever holds it: lever, rod, frame and yoke are the
    parallelogram. Three equal upright rods carry the plate on the yoke.
    """
    def machine(high):
        bodies = [crank("lever", [0, -80, 20], X, input=True), crank("forward cyclic arm", [0, -80, 20], X, input=True),
                  crank("yoke", [0, 0, 20], X, "lever"), plate(60, 0)]
        links = [link("holding rod", "forward cyclic arm", [15, -80, high], "yoke", [15, 0, 0])]
        links += [link(f"{name} rod", "yoke", [x, y, 20], "plate", [x, y, 60])
                  for name, x, y in (("right", 24, 0), ("left", -24, 0), ("front", 0, 24))]
        return bodies, links

    inputs = ((0, 0), (5, 0), (-5, 0), (10, 0), (-5, 8))
    return (settings("pattern g, a parallelogram keeps the plate level", INVENTED, *machine(0), *inputs)
            + settings("pattern g, one rod 2 mm out of parallel", INVENTED, *machine(2), *inputs))


def washout():
    """Three servos, rotating ring, washout on its sliding base, teetering bar, mixing arms and two blade grips.

    The bar's teeter is an input. Blade 1 stands at a bearing; blade 2 and its parts opposite.
    """
    def machine(blade):
        (ax, ay, _), (bx, by, _) = bearing(blade), bearing(blade - 90)
        along = lambda x, y: [x * ax + y * bx, x * ay + y * by, 0]     # x along blade 1, y a right angle before it

        def spun(x, y, z, side):
            return [*(round(side * v, 3) for v in along(x, y)[:2]), z]

        servos, links = direct((0, 120, 240), 180, (41.0, 41.1, 41.05))
        bodies = [*servos, ring((blade + 20) % 360), slider("washout base", [0, 0, 90], Z),
                  crank("bar teeter", [0, 0, 118], along(1, 0), input=True),
                  crank("bar", [0, 0, 118], along(0, 1), "bar teeter")]
        for i, side in ((1, 1), (2, -1)):
            at = lambda x, y, z: spun(x, y, z, side)
            bodies += [crank(f"washout arm {i}", at(22, 3, 90), along(0, 1), "washout base"),
                       crank(f"mixing arm {i}", at(12, -14, 112), along(0, 1), "bar teeter"),
                       crank(f"grip {i}", [0, 0, 140], along(-side, 0))]
            links += [link(f"washout link {i}", "ring", at(29, 2, 65), f"washout arm {i}", at(30, 3, 90)),
                      link(f"bar link {i}", f"washout arm {i}", at(14, 3, 90), "bar", at(14, 2, 118)),
                      link(f"mixing link {i}", "ring", at(32, -14, 65), f"mixing arm {i}", at(32, -14, 112)),
                      link(f"pitch link {i}", f"mixing arm {i}", at(22, -14, 112), f"grip {i}", at(22, -14, 140),
                           28.0 if side == 1 else 28.2)]
        return bodies, links

    inputs = ((0, 0, 0, 0), (14, 14, 14, 0), (10, -12, 4, 0), (-6, 15, -9, 8), (-16, -3, 11, -12))
    return (settings("pattern h, washout, mixing arms and grips, blade at 90 degrees", INVENTED, *machine(90), *inputs)
            + settings("pattern h, washout, mixing arms and grips, blade at 217 degrees", INVENTED, *machine(217), *inputs[2:]))


def all_patterns():
    makers = (three_legs, four_legs, standing_cranks, riding_cranks, rocker, push_pull, parallelogram, washout)
    return [case for make in makers for case in make()]
