"""Writes nonlinear.json and priors.json. Needs SciPy and mpmath.

The nonlinear data sets of the NIST Statistical Reference Datasets (StRD,
https://www.itl.nist.gov/div898/strd/) are given below from memory, data and certified
values alike. A data set is written only if an optimum found here, refined at 50 digits,
agrees with the certified parameters, standard deviations and residual sum of squares: a
datum remembered wrongly would show.
"""

import json

import mpmath as mp
import numpy as np
from scipy.optimize import least_squares

mp.mp.dps = 50
AGREE = 6e-11  # half a unit in the last of the 11 certified digits, and a little

MISRA_X = "77.6 114.9 141.1 190.8 239.9 289.0 332.8 378.4 434.8 477.3 536.8 593.1 689.1 760.0"
MISRA_Y = "10.07 14.73 17.94 23.93 29.61 35.18 40.02 44.82 50.76 55.05 61.01 66.40 75.47 81.78"


def step(start, stop, by):
    return " ".join(repr(round(float(v), 6)) for v in np.arange(start, stop + by / 2, by))


def lanczos(x, digits):
    """Lanczos's own data are this sum, rounded."""
    v = [0.0951 * mp.exp(-mp.mpf(t)) + 0.8607 * mp.exp(-3 * mp.mpf(t)) + 1.5576 * mp.exp(-5 * mp.mpf(t)) for t in x.split()]
    return " ".join(mp.nstr(mp.nint(t * 10**digits) / 10**digits, 12) for t in v)


LANCZOS_X = step(0, 1.15, 0.05)

# name: model, x, y, starts, certified parameters, certified deviations, certified sum of squares
SETS = {
    "Misra1a": (
        lambda x, b, m: b[0] * (1 - m.exp(-b[1] * x)), MISRA_X, MISRA_Y,
        ["500 0.0001", "250 0.0005"],
        "2.3894212918E+02 5.5015643181E-04", "2.7070075241E+00 7.2668688436E-06", "1.2455138894E-01"),
    "Misra1b": (
        lambda x, b, m: b[0] * (1 - (1 + b[1] * x / 2) ** -2), MISRA_X, MISRA_Y,
        ["500 0.0001", "300 0.0002"],
        "3.3799746163E+02 3.9039091287E-04", "3.1643950207E+00 4.2547321834E-06", "7.5464681533E-02"),
    "Misra1c": (
        lambda x, b, m: b[0] * (1 - 1 / m.sqrt(1 + 2 * b[1] * x)), MISRA_X, MISRA_Y,
        ["500 0.0001", "600 0.0002"],
        "6.3642725809E+02 2.0813627256E-04", "4.6638326572E+00 1.7728423155E-06", "4.0966836971E-02"),
    "Misra1d": (
        lambda x, b, m: b[0] * b[1] * x / (1 + b[1] * x), MISRA_X, MISRA_Y,
        ["500 0.0001", "450 0.0003"],
        "4.3736970754E+02 3.0227324449E-04", "3.6489174345E+00 2.9334354479E-06", "5.6419295283E-02"),
    "DanWood": (
        lambda x, b, m: b[0] * x ** b[1], "1.309 1.471 1.490 1.565 1.611 1.680", "2.138 3.421 3.597 4.340 4.882 5.660",
        ["1 5", "0.7 4"],
        "7.6886226176E-01 3.8604055871E+00", "1.8281973860E-02 5.1726610913E-02", "4.3173084083E-03"),
    "BoxBOD": (
        lambda x, b, m: b[0] * (1 - m.exp(-b[1] * x)), "1 2 3 5 7 10", "109 149 149 191 213 224",
        ["1 1", "100 0.75"],
        "2.1380940889E+02 5.4723748542E-01", "1.2354515176E+01 1.0455993237E-01", "1.1680088766E+03"),
    "MGH09": (
        lambda x, b, m: b[0] * (x**2 + x * b[1]) / (x**2 + x * b[2] + b[3]),
        "4 2 1 0.5 0.25 0.167 0.125 0.1 0.0833 0.0714 0.0625",
        "0.1957 0.1947 0.1735 0.16 0.0844 0.0627 0.0456 0.0342 0.0323 0.0235 0.0246",
        ["25 39 41.5 39", "0.25 0.39 0.415 0.39"],
        "1.9280693458E-01 1.9128232873E-01 1.2305650693E-01 1.3606233068E-01",
        "1.1435312227E-02 1.9633220911E-01 8.0842031232E-02 9.0025542308E-02", "3.0750560385E-04"),
    "MGH10": (
        lambda x, b, m: b[0] * m.exp(b[1] / (x + b[2])), step(50, 125, 5),
        "34780 28610 23650 19630 16370 13720 11540 9744 8261 7030 6005 5147 4427 3820 3307 2872",
        ["2 400000 25000", "0.02 4000 250"],
        "5.6096364710E-03 6.1813463463E+03 3.4522363462E+02",
        "1.5687892471E-04 2.3309021107E+01 7.8486103508E-01", "8.7945855171E+01"),
    "MGH17": (
        lambda x, b, m: b[0] + b[1] * m.exp(-x * b[3]) + b[2] * m.exp(-x * b[4]), step(0, 320, 10),
        "0.844 0.908 0.932 0.936 0.925 0.908 0.881 0.850 0.818 0.784 0.751 0.718 0.685 0.658 0.628 0.603 0.580 "
        "0.558 0.538 0.522 0.506 0.490 0.478 0.467 0.457 0.448 0.438 0.431 0.424 0.420 0.414 0.411 0.406",
        ["50 150 -100 1 2", "0.5 1.5 -1 0.01 0.02"],
        "3.7541005211E-01 1.9358469127E+00 -1.4646871366E+00 1.2867534640E-02 2.2122699662E-02",
        "2.0723153551E-03 2.2031669222E-01 2.2175707739E-01 4.4861358114E-04 8.9471996575E-04", "5.4648946975E-05"),
    "Rat42": (
        lambda x, b, m: b[0] / (1 + m.exp(b[1] - b[2] * x)), "9 14 21 28 42 57 63 70 79",
        "8.93 10.8 18.59 22.33 39.35 56.11 61.73 64.62 67.08",
        ["100 1 0.1", "75 2.5 0.07"],
        "7.2462237576E+01 2.6180768402E+00 6.7359200066E-02",
        "1.7340283401E+00 8.8295217536E-02 3.4465663377E-03", "8.0565229338E+00"),
    "Rat43": (
        lambda x, b, m: b[0] / (1 + m.exp(b[1] - b[2] * x)) ** (1 / b[3]), step(1, 15, 1),
        "16.08 33.83 65.80 97.20 191.55 326.20 386.87 520.53 590.03 651.92 724.93 699.56 689.96 637.56 717.41",
        ["100 10 1 1", "700 5 0.75 1.3"],
        "6.9964151270E+02 5.2771253025E+00 7.5962938329E-01 1.2792483859E+00",
        "1.6302297817E+01 2.0828735829E+00 1.9566123451E-01 6.8761936385E-01", "8.7864049080E+03"),
    "Eckerle4": (
        lambda x, b, m: b[0] / b[1] * m.exp(-((x - b[2]) / b[1]) ** 2 / 2),
        step(400, 435, 5) + " " + step(436.5, 465, 1.5) + " " + step(470, 500, 5),
        "0.0001575 0.0001699 0.0002350 0.0003102 0.0004917 0.0008710 0.0017418 0.0046400 0.0065895 0.0097302 "
        "0.0149002 0.0237310 0.0401683 0.0712559 0.1264458 0.2073413 0.2902366 0.3445623 0.3698049 0.3668534 "
        "0.3106727 0.2078154 0.1164354 0.0616764 0.0337200 0.0194023 0.0117831 0.0074357 0.0022732 0.0008800 "
        "0.0004579 0.0002345 0.0001586 0.0001143 0.0000710",
        ["1 10 500", "1.5 5 450"],
        "1.5543827178E+00 4.0888321754E+00 4.5154121844E+02",
        "1.5408051163E-02 4.6803020753E-02 4.6800518816E-02", "1.4635887487E-03"),
    "Thurber": (
        lambda x, b, m: (b[0] + b[1] * x + b[2] * x**2 + b[3] * x**3) / (1 + b[4] * x + b[5] * x**2 + b[6] * x**3),
        "-3.067 -2.981 -2.921 -2.912 -2.840 -2.797 -2.702 -2.699 -2.633 -2.481 -2.363 -2.322 -1.501 -1.460 -1.274 "
        "-1.212 -1.100 -1.046 -0.915 -0.714 -0.566 -0.545 -0.400 -0.309 -0.109 -0.103 0.010 0.119 0.377 0.790 0.963 "
        "1.006 1.115 1.572 1.841 2.047 2.200",
        "80.574 84.248 87.264 87.195 89.076 89.608 89.868 90.101 92.405 95.854 100.696 101.060 401.672 390.724 "
        "567.534 635.316 733.054 759.087 894.206 990.785 1090.109 1080.914 1122.643 1178.351 1260.531 1273.514 "
        "1288.339 1327.543 1353.863 1414.509 1425.208 1421.384 1442.962 1464.350 1468.705 1447.894 1457.628",
        ["1000 1000 400 40 0.7 0.3 0.03", "1300 1500 500 75 1 0.4 0.05"],
        "1.2881396800E+03 1.4910792535E+03 5.8323836877E+02 7.5416644291E+01 9.6629502864E-01 3.9797285797E-01 4.9727297349E-02",
        "4.6647963344E+00 3.9571156086E+01 2.8698696102E+01 5.5675370270E+00 3.1333340687E-02 1.4984928198E-02 6.5842344623E-03",
        "5.6427082397E+03"),
    "Lanczos3": (
        lambda x, b, m: b[0] * m.exp(-b[1] * x) + b[2] * m.exp(-b[3] * x) + b[4] * m.exp(-b[5] * x),
        LANCZOS_X, lanczos(LANCZOS_X, 4),
        ["1.2 0.3 5.6 5.5 6.5 7.6", "0.5 0.7 3.6 4.2 4 6.3"],
        "8.6816414977E-02 9.5498101505E-01 8.4400777463E-01 2.9515951832E+00 1.5825685901E+00 4.9863565084E+00",
        "1.7197908859E-02 9.7041624475E-02 4.1488663282E-02 1.0766312506E-01 5.8371576281E-02 3.4436403035E-02",
        "1.6117193594E-08"),
}


def mpf(text):
    return [mp.mpf(v) for v in text.split()]


def refine(model, x, y, b):
    """Gauss-Newton at 50 digits from a SciPy optimum: parameters, deviations, sum of squares."""
    n = len(b)
    h = mp.mpf(10) ** -17
    b = mp.matrix(b)
    for _ in range(200):
        r = mp.matrix([v - model(t, b, mp) for t, v in zip(x, y)])
        jac = mp.matrix(len(x), n)
        for j in range(n):
            d = h * abs(b[j])
            up, down = b.copy(), b.copy()
            up[j] += d
            down[j] -= d
            for i, t in enumerate(x):
                jac[i, j] = (model(t, up, mp) - model(t, down, mp)) / (2 * d)
        inverse = (jac.T * jac) ** -1
        move = inverse * (jac.T * r)
        b += move
        if max(abs(move[j] / b[j]) for j in range(n)) < mp.mpf(10) ** -24:
            break
    else:
        raise ValueError("no convergence")
    rss = mp.fsum(v**2 for v in r)
    return list(b), [mp.sqrt(inverse[j, j] * rss / (len(x) - n)) for j in range(n)], rss


def worst(got, want):
    return max(abs(g / mp.mpf(w) - 1) for g, w in zip(got, want))


def certified():
    sets = []
    for name, (model, xs, ys, starts, values, deviations, rss) in SETS.items():
        x, y = np.array(xs.split(), float), np.array(ys.split(), float)
        start = np.array(starts[1].split(), float)
        fit = least_squares(lambda b: y - model(x, b, np), start, x_scale=np.abs(start), method="lm",
                            xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=10000)
        fine, fine_sd, fine_rss = refine(model, mpf(xs), mpf(ys), [mp.mpf(float(v)) for v in fit.x])
        off = worst(fine, values.split()), worst(fine_sd, deviations.split()), worst([fine_rss], [rss])
        print(f"{name:9} off certified: parameters {mp.nstr(off[0], 2)}, deviations {mp.nstr(off[1], 2)}, "
              f"sum {mp.nstr(off[2], 2)}; SciPy off refined {mp.nstr(worst(map(mp.mpf, map(float, fit.x)), fine), 2)}")
        if max(off) > AGREE:
            print(f"{name:9} LEFT OUT")
            continue
        sets.append({
            "name": name,
            "x": [float(v) for v in x], "y": [float(v) for v in y],
            "starts": [[float(v) for v in s.split()] for s in starts],
            "certified": [float(v) for v in values.split()],
            "certified_sd": [float(v) for v in deviations.split()],
            "certified_rss": float(rss),
            "scipy": [float(v) for v in fit.x],
            "refined": [float(v) for v in fine],
            "refined_sd": [float(v) for v in fine_sd],
            "refined_rss": float(fine_rss),
        })
    return sets


def with_priors():
    """Invented problems: value i is A[i]·p + (B[i]·p)²/10, with priors on some of the parameters."""
    rng = np.random.default_rng(20240611)
    problems = []
    for rows, cols, free in [(9, 12, 0), (12, 12, 3), (20, 6, 2), (40, 8, 0), (9, 30, 0)]:
        a, b = rng.normal(size=(rows, cols)), rng.normal(size=(rows, cols)) / np.sqrt(cols)
        sigma = 10 ** rng.uniform(-2, 0, rows)
        mean, prior = rng.normal(size=cols), 10 ** rng.uniform(-1, 0.5, cols)
        has = np.arange(cols) >= free
        truth = mean + 0.5 * prior * rng.normal(size=cols)
        y = a @ truth + (b @ truth) ** 2 / 10 + sigma * rng.normal(size=rows)
        a, b, sigma, mean, prior, y = (np.round(v, 6) for v in (a, b, sigma, mean, prior, y))

        def residuals(p):
            return np.concatenate([(a @ p + (b @ p) ** 2 / 10 - y) / sigma, ((p - mean) / prior)[has]])

        def jacobian(p):
            return np.vstack([(a + 0.2 * (b @ p)[:, None] * b) / sigma[:, None], np.diag(1 / prior)[has]])

        fit = least_squares(residuals, mean, jac=jacobian, x_scale=prior, xtol=1e-15, ftol=1e-15, gtol=1e-15)
        jac = mp.matrix(jacobian(fit.x).tolist())
        covariance = (jac.T * jac) ** -1
        hat = np.diag(np.array((jac * covariance * jac.T).tolist(), float))
        problems.append({
            "rows": rows, "a": a.ravel().tolist(), "b": b.ravel().tolist(), "y": y.tolist(), "sigma": sigma.tolist(),
            "mean": mean.tolist(), "prior_sigma": np.where(has, prior, 0).tolist(),
            "scipy": fit.x.tolist(), "sum": float(2 * fit.cost),
            "covariance": [float(v) for v in covariance],
            "leverage": hat[:rows].tolist(),
        })
    return problems


def write(path, source, status, key, entries):
    with open(path, "w") as f:
        body = ",\n".join(json.dumps(e) for e in entries)
        f.write(f'{{"source": {json.dumps(source)},\n"status": {json.dumps(status)},\n"{key}": [\n{body}\n]}}\n')


write("nonlinear.json",
      "NIST Statistical Reference Datasets, nonlinear regression, https://www.itl.nist.gov/div898/strd/; written by strd.py",
      "Data and certified values from memory; each confirmed by SciPy least_squares and a 50-digit refinement, which agree with "
      "every certified parameter, deviation and sum of squares to 6e-11 relative. Fields scipy and refined are computed.",
      "sets", certified())
write("priors.json", "strd.py", "Invented problems; values computed by SciPy least_squares, covariance and leverage at 50 digits there.",
      "problems", with_priors())
