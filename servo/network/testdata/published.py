"""Pattern i: published mechanisms, most of them in the plane z = 0. Their coordinates by hand are in by_hand.py.

Proportions are from memory unless the source says that they were seen. The neutral is ours: published angles are reached
from it. Lengths are scaled to millimetres.
"""

import math

from patterns import X, Y, Z, crank, link, settings, slider


def polar(centre, radius, degrees):
    return [centre[0] + radius * math.cos(math.radians(degrees)), centre[1] + radius * math.sin(math.radians(degrees)), 0]


def meet(a, ra, b, rb, side):
    """Where two circles meet: the point left (1) or right (-1) of the way from a to b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    d = math.hypot(dx, dy)
    along = (d * d + ra * ra - rb * rb) / (2 * d)
    off = side * math.sqrt(ra * ra - along * along)
    return [a[0] + (along * dx - off * dy) / d, a[1] + (along * dy + off * dx) / d, 0]


NORTON = "R. L. Norton, Design of Machinery, Example 4-1: proportions from memory"
ROW_A = "R. L. Norton, Design of Machinery, Table P4-1 row a: proportions from memory"


def four_bars():
    """Crank 40, coupler 120, rocker 80, frame 100, neutral at the published 40 degrees; and 20, 70, 90, 60 at 30 degrees."""
    cases = []
    for source, name, (a, b, c, d), theta in ((NORTON, "40-120-80-100", (40, 120, 80, 100), 40),
                                              (ROW_A, "20-70-90-60", (20, 70, 90, 60), 30)):
        for branch, side in (("open", 1), ("crossed", -1)):
            pin = polar((0, 0), a, theta)
            end = meet(pin, b, (d, 0), c, side)
            bodies = [crank("crank", [0, 0, 0], Z, input=True), crank("rocker", [d, 0, 0], Z)]
            cases += settings(f"pattern i, four-bar {name}, {branch}", source, bodies,
                              [link("coupler", "crank", pin, "rocker", end, b)], (-25,), (55,), (130,))
    return cases


def slider_cranks():
    """Crank 10, rod 20; and Haug's crank about x with a rod to a slider on the x axis."""
    bodies = [crank("crank", [0, 0, 0], Z, input=True), slider("slider", [30, 0, 0], X)]
    cases = settings("pattern i, slider-crank", "an exercise, coursehero.com/file/6680931: seen",
                     bodies, [link("rod", "crank", [10, 0, 0], "slider", [30, 0, 0], 20)], (45,), (-100,))
    bodies = [crank("crank", [0, 100, 120], X, input=True), slider("slider", [200, 0, 0], X)]
    source = "E. J. Haug, Computer Aided Kinematics and Dynamics of Mechanical Systems (1989), sec. 12.2: seen"
    return cases + settings("pattern i, slider-crank in space", source, bodies,
                            [link("rod", "crank", [0, 100, 200], "slider", [200, 0, 0], 300)], (-90,), (-30,), (120,))


def spatial_four_bar():
    """Wheel 20 about x, coupler 122, rocker 74 about y; neutral where the wheel's pin is on top."""
    # C = (-40 + 74 cos psi, -85, 74 sin psi) at 122 from (0, 0, 20), psi on the published branch
    p, s = -2 * 40 * 74, -2 * 74 * 20
    psi = math.atan2(s, p) - math.acos((122 ** 2 - 40 ** 2 - 85 ** 2 - 74 ** 2 - 20 ** 2) / math.hypot(p, s))
    bodies = [crank("wheel", [0, 0, 0], X, input=True), crank("rocker", [-40, -85, 0], [0, -1, 0])]
    rod = link("coupler", "wheel", [0, 0, 20], "rocker", [-40 + 74 * math.cos(psi), -85, 74 * math.sin(psi)], 122)
    source = "E. J. Haug, Computer Aided Kinematics and Dynamics of Mechanical Systems (1989), sec. 12.3: seen"
    return settings("pattern i, two cranks in space", source, bodies, [rod], (90,), (-60,), (150,))


def six_bars():
    """Watt's and Stephenson's chains.

    Watt II: the rocker of a published four-bar drives a second published four-bar. Stephenson III: a straight-line four-bar
    of published proportions 1, 2, 2.5, 2.5, traced at 5, whose traced point drives a rocker. Watt I: invented.
    """
    pin, second = polar((0, 0), 40, 40), polar((100, 0), 20, 30)
    bodies = [crank("crank", [0, 0, 0], Z, input=True), crank("middle rocker", [100, 0, 0], Z), crank("rocker", [160, 0, 0], Z)]
    links = [link("first coupler", "crank", pin, "middle rocker", meet(pin, 120, (100, 0), 80, 1), 120),
             link("second coupler", "middle rocker", second, "rocker", meet(second, 70, (160, 0), 90, 1), 70)]
    cases = settings("pattern i, six-bar, Watt II", f"{NORTON}; {ROW_A}; put together here", bodies, links, (-30,), (25,), (70,))

    bodies = [crank("crank", [0, 0, 0], Z, input=True), crank("coupler", [-20, 0, 0], Z, "crank"), crank("rocker", [100, 40, 0], Z)]
    links = [link("swing", "coupler", [10, 40, 0], "", [40, 0, 0], 50),
             link("second coupler", "coupler", [40, 80, 0], "rocker", [100, 80, 0], 60)]
    cases += settings("pattern i, six-bar, Stephenson III", "Hoekens's straight-line four-bar: proportions from memory; the output rocker is "
                      "invented", bodies, links, (40,), (-60,), (-15,))

    bodies = [crank("rocker", [0, 0, 0], Z, input=True), crank("coupler", [0, 60, 0], Z, "rocker"),
              crank("arm", [-30, 90, 0], Z, "coupler")]
    links = [link("crank", "coupler", [-60, 60, 0], "", [-60, 10, 0], 50),
             link("link", "arm", [10, 120, 0], "rocker", [40, 80, 0], 50)]
    return cases + settings("pattern i, six-bar, Watt I", "invented dimensions", bodies, links, (20,), (-25,), (40,))


def leg():
    """Jansen's leg, eight bars, by his published numbers; the foot is a point of the body that the lower rocker carries."""
    source = "Theo Jansen's leg: his published lengths, from memory"
    centre, pivot = (0, 0), (-38, -7.8)
    pin = polar(centre, 15, 0)
    top = meet(pin, 50, pivot, 41.5, -1)
    side = meet(pivot, 40.1, top, 55.8, 1)
    low = meet(pin, 61.9, pivot, 39.3, 1)
    heel = meet(side, 39.4, low, 36.7, 1)
    bodies = [crank("crank", [0, 0, 0], Z, input=True), crank("upper rocker", [*pivot, 0], Z), crank("lower rocker", [*pivot, 0], Z),
              crank("foot", low, Z, "lower rocker")]
    links = [link("upper rod", "crank", pin, "upper rocker", top, 50), link("lower rod", "crank", pin, "lower rocker", low, 61.9),
             link("back rod", "upper rocker", side, "foot", heel, 39.4)]
    return settings("pattern i, eight-bar, leg", source, bodies, links, (50,), (-80,), (160,))


def straight_line():
    """Peaucellier's cell: arms 100, rhombus 50, crank 30. The traced point, here a slider's, moves on a line by itself, so
    four links on three freedoms agree; with three links the slider gives the line."""
    bodies = [crank("crank", [30, 0, 0], Z, input=True), crank("left arm", [0, 0, 0], Z), crank("right arm", [0, 0, 0], Z),
              slider("tracer", [125, 0, 0], Y)]
    side = math.sqrt(100 ** 2 - 92.5 ** 2)
    left, right = [92.5, side, 0], [92.5, -side, 0]
    links = [link("first side", "crank", [60, 0, 0], "left arm", left, 50, 1),
             link("second side", "crank", [60, 0, 0], "right arm", right, 50, 1.5),
             link("third side", "left arm", left, "tracer", [125, 0, 0], 50, 0.75),
             link("fourth side", "right arm", right, "tracer", [125, 0, 0], 50, 1.25)]
    source = "Peaucellier's straight-line mechanism (1864): the principle is published, the dimensions are ours"
    cases = settings("pattern i, eight-bar, straight line", source, bodies, links, (30,), (-50,))
    three = [{k: v for k, v in one.items() if k != "stiffness"} for one in links[:3]]
    return cases + settings("pattern i, eight-bar, straight line by a slider", source, bodies, three, (30,), (-50,))


def all_published():
    makers = (four_bars, slider_cranks, spatial_four_bar, six_bars, leg, straight_line)
    return [case for make in makers for case in make()]
