#!/usr/bin/python3
"""One calibration of the head model: what nobody has measured, inferred together.

Unknown are the tension of the winding T, how yarn comes off the skein (loose,
phi0) and what its fibres put against being squeezed (crush, K E), how much
stiffer fibres, moulded rubber and latex are in a blow, how a stretched slice
is held, the yarn's loss, and the stiffness of the plastic. Each gets a prior
from physics or a published figure. Facts of the trade (common practice, no
source) and published figures pull on them as the table says, a fact with a
least value only while it is not met. The sum of squares is made least from two
starting points; the figures at the least go into the catalogue, their spread
(from the curvature there) into its tolerances.

    /usr/bin/python3 calibrate.py           prints the table
    /usr/bin/python3 calibrate.py --heads   asks the program anew for the stacks' sizes (heads.json)
    /usr/bin/python3 calibrate.py --record  also writes what the Go tests compare the catalogue with (calibration.json)

The strokes are those of headmodel.py, the laws of knowledge/strike written down
again; the Go tests hold the catalogue's values to the same facts.
"""

import json
import math
import os
import re
import subprocess
import sys

import numpy as np
from scipy.optimize import least_squares

import headmodel as hm

HERE = os.path.dirname(os.path.abspath(__file__))
SPEEDS = [1.0, 2.0, 3.5, 5.0]  # p, mf, f, ff
ROD = (0.0342, 2.7)  # a birch shaft of 5/16 in
POLY = "poly-1-1/8"
STACKS = {
    "bare wound": POLY,
    "1/16": POLY + " + 3/4x1/16@1",
    "1/8": POLY + " + 3/4x1/8@1",
    "3/16": POLY + " + 3/4x1/8@1 + 1x1/16@1",
    "5/16": "poly-1 + 3/4x1/8@1 + 7/8x1/8@1 + 1x1/16@1",
    "40 under 1/8": "rubber-40a-1-1/8 + 3/4x1/8@1",
    "60 under 1/8": "rubber-60a-1-1/8 + 3/4x1/8@1",
    "55 under 1/16": "rubber-55a-1-1/8 + 3/4x1/16@1",
    "60 under 1/16": "rubber-60a-1-1/8 + 3/4x1/16@1",
    "75 under 1/16": "rubber-75a-1-1/8 + 3/4x1/16@1",
    "75 wound": "rubber-75a-1-1/8",
    "60 wound": "rubber-60a-1-1/8",
}
# Yarns at the ends of what is wound: tex, density, turns.
YARNS = {"lace*220": (145, 1310, 220), "fine*145": (230, 1310, 145), "light*220": (285, 1310, 220), "medium*90": (370, 1310, 90),
         "medium*200": (370, 1310, 200), "heavy*60": (550, 1310, 60), "heavy*135": (550, 1310, 135), "bulky*60": (900, 1310, 60),
         "bulky*82": (900, 1310, 82), "acrylic-bulky*76": (900, 1190, 76)}

# name, unit, prior mean, prior standard deviation (of the logarithm where log), log, from
PRIORS = [
    ("T", "N", 4.5, 0.45, True, "no tension of hand winding is published; an independent prototype's 3 to 7 N"),
    ("phi0", "", 0.20, 0.03, False, "between a relaxed skein (0.06 to 0.08) and spun yarn (0.4 to 0.6)"),
    ("KE", "Pa", 30e6, 0.6, True, "bulk of loose wool gives 11 to 90 MPa (derived)"),
    ("rate", "", 1.4, 0.15, False, "a blow is faster than a thumb: 1.2 to 1.7 (assumption)"),
    ("rubber", "", 1.65, 0.18, False, "filled rubber in milliseconds: 1.3 to 2 (memory)"),
    ("latex", "", 1.10, 0.05, False, "unfilled natural rubber: 1.0 to 1.2 (memory)"),
    ("hold", "", 0.04, 0.03, False, "stretched, not glued, short, with free ends: 0 to 0.1"),
    ("loss", "", 0.38, 0.06, False, "a machine-wound wool ball's restitution (derived)"),
    ("poly", "Pa", 1.4e9, 0.12, True, "polypropylene 1.07 to 1.8 GPa (three public tables)"),
]
SHAFT = 1 + 1.51 * 0.278**2.14  # shaft.py, a 5/16 in rod in a 1 1/8 in ball
MOULDED = 1.3  # over Gent: published at 65 and 75 Shore A


def heads():
    if "--heads" in sys.argv:
        out = {}
        for name, s in STACKS.items():
            text = subprocess.run(["go", "run", "./cmd/mallow", "head", "--json", s], cwd=os.path.join(HERE, "..", ".."), capture_output=True, text=True, check=True).stdout
            j = json.loads(text)
            out[name] = {"part": j["core"]["part"], "core_mm": j["core"]["diameter_mm"], "core_g": j["core"]["mass_g"],
                         "layers": [[l["wall_mm"], l["outer_mm"], l["mass_g"]] for l in j.get("layers") or []]}
        with open(os.path.join(HERE, "heads.json"), "w") as f:
            json.dump(out, f, indent=1)
    with open(os.path.join(HERE, "heads.json")) as f:
        return json.load(f)


def wind(turns, tex, rho, p, bare, core):
    """Wall, rest and press of the wound yarn, and its mass: as head.Wind."""
    fibre, wall = tex * 1e-6 / rho, 0.05 * bare
    k0 = p["KE"] * p["phi0"] ** 3
    for _ in range(8):
        k1 = turns * p["T"] / (2 * ((bare + wall) / 2) ** 2)
        bulk = 1.5 * p["KE"] ** (1 / 3) * ((k0 + k1) ** (2 / 3) - k0 ** (2 / 3)) / k1
        wall = (math.sqrt(bare * bare + 8 / math.pi * turns * fibre * bulk) - bare) / 2
    return wall, k0, k1, turns * math.pi * ((bare + core) / 2 + wall) * tex * 1e-6


def body(g, p, tex=370, rho=1310, turns=None):
    core = g["core_mm"] / 1e3
    bare = (g["layers"][-1][1] if g["layers"] else g["core_mm"]) / 1e3
    mass = (g["core_g"] + sum(l[2] for l in g["layers"])) / 1e3
    turns = turns or round(140 * bare / (1.25 * 0.0254))
    wall, k0, k1, yarn = wind(turns, tex, rho, p, bare, core)
    rubber = re.match(r"rubber-(\d+)a", g["part"])
    if rubber:
        ball = (core / 2, MOULDED * hm.gent(float(rubber.group(1))) * SHAFT * p["rubber"], 0.5, 0.25)
    else:
        ball = (core / 2, p["poly"], 0.42, 0.10)
    b = hm.Body(mass=mass + yarn, radius=bare / 2 + wall, core=ball, hold=max(p["hold"], 0),
                rubber=[(l[0] / 1e3, hm.gent(35) * p["latex"], 0.10) for l in g["layers"]],
                yarn=(wall, p["rate"] * k0, p["rate"] * k1, p["loss"]), rod=ROD, rod_mass=ROD[0] * 0.75 * core)
    b.mm = 2e3 * b.radius
    return b


def facts(p, geo):
    """(name, value, wanted, spread, 'least', 'most' or 'about')."""
    names = list(STACKS)
    bodies = [body(geo[n], p) for n in names]
    bodies += [body(geo["1/8"], p, *y[:2], turns=y[2]) for y in YARNS.values()]
    bodies += [body(geo["bare wound"], p, 550, 1310, 135), body(geo["60 wound"], p, 230, 1310, 60)]
    f, contact, _ = hm.strokes(bodies, SPEEDS)
    at = {n: i for i, n in enumerate(names)}
    softer = lambda a, b: 6 * np.log2(f[at[a]] / f[at[b]])  # by which b is softer than a
    mf = lambda i: 6 * math.log2(f[at["1/8"], 1] / f[i, 1])
    out = []
    for a, b in zip(names[:4], names[1:5]):
        out.append((f"{b} softer than {a} on plastic, least of p to ff", softer(a, b).min(), 0.5, 0.15, "least"))
    for a, b in zip(names[10:5:-1], names[9:4:-1]):
        out.append((f"{b} softer than {a}, least of p to ff", softer(a, b).min(), 0.25, 0.05, "least"))
    d = softer("60 under 1/8", "40 under 1/8")
    out.append(("40 and 60 under 1/8 apart at ff over p", d[3] / d[0], 1.72, 0.04, "least"))
    for i, n in enumerate(YARNS):
        off = mf(len(names) + i)
        out.append((f"medium with {n}", off, 1.0 if off > 0 else -1.0, 0.08, "most" if off > 0 else "least"))
    open_ = lambda i: math.log2(f[i, 3] / f[i, 0])
    n = len(names) + len(YARNS)
    out.append(("thick soft yarn on plastic opens up more than a thin wrap on rubber, octaves", open_(n) - open_(n + 1), 0.3, 0.1, "least"))
    out.append(("1/16 opens up more than 5/16, octaves", open_(at["1/16"]) - open_(at["5/16"]), 0.1, 0.05, "least"))
    out.append(("plastic set long at mf, notches", mf(at["5/16"]) - mf(at["bare wound"]), 6.5, 0.8, "about"))
    out.append(("75 durometer wound is hard: notches from medium", mf(at["75 wound"]), -1.3, 0.4, "most"))
    out.append(("medium head over all, mm", bodies[at["1/8"]].mm, 41.0, 1.0, "about"))
    out.append(("softest head over all, mm", bodies[at["5/16"]].mm, 45.5, 1.0, "about"))
    out.append(("1700 turns of the wound ball for play: log of T/(K E) per 1.0e-7 m2, its tension unknown within 2", math.log(p["T"] / p["KE"] / 1.0e-7), 0, 0.8, "about"))
    return out, bodies, f, contact


def residual(fact):
    _, value, wanted, spread, kind = fact
    r = (value - wanted) / spread
    return min(r, 0) if kind == "least" else max(r, 0) if kind == "most" else r


def to_params(x):
    return {n: (m * math.exp(s * v) if log else max(m + s * v, 1e-4)) for (n, _, m, s, log, _), v in zip(PRIORS, x)}


def fit(geo, start):
    def res(x):
        return np.r_[x, [residual(f) for f in facts(to_params(x), geo)[0]]]

    return least_squares(res, start, diff_step=0.03, x_scale=1.0, xtol=1e-4, ftol=1e-5, max_nfev=25)


def record(p, sd, both, costs, cov, fs, f):
    """Write figures, their spreads (one standard deviation), what the two starts
    gave, the facts and the cut-offs of the stacks."""
    spread = {n: (p[n] if log else 1) * s * sd[i] for i, (n, _, _, s, log, _) in enumerate(PRIORS)}
    out = {
        "figures": {n: {"value": p[n], "spread": spread[n], "starts": [x[n] for x in both]} for n in p},
        "costs": costs,
        "facts": [{"fact": n, "value": v, "wanted": w, "spread": s, "kind": k, "off": residual((n, v, w, s, k))} for n, v, w, s, k in fs],
        "cutoff_hz": {STACKS[n] + " + wool-medium": list(f[i]) for i, n in enumerate(STACKS)},
    }
    with open(os.path.join(HERE, "calibration.json"), "w") as w:
        json.dump(out, w, indent=1)
        w.write("\n")


def main():
    geo = heads()
    starts = [np.zeros(len(PRIORS)), np.array([0.9, -0.9, -0.9, 0.9, -0.9, 0.9, -0.9, -0.9, 0.9])]
    fits = [fit(geo, s) for s in starts]
    best = min(fits, key=lambda r: r.cost)
    cov = np.linalg.inv(best.jac.T @ best.jac)
    a, b = to_params(fits[0].x), to_params(fits[1].x)
    p = to_params(best.x)
    print("figure        value      spread (1 sd)   prior                 from two starts")
    for i, (n, unit, m, s, log, why) in enumerate(PRIORS):
        sd = math.sqrt(cov[i, i])
        spread = p[n] * s * sd if log else s * sd
        prior = "%.4g x/ %.2f" % (m, math.exp(s)) if log else "%.4g +- %.3g" % (m, s)
        print("%-6s %12.4g %12.3g %-3s %-22s %.4g, %.4g   %s" % (n, p[n], spread, unit, prior, a[n], b[n], why))
    print("cost from two starts: %.3f, %.3f" % (fits[0].cost, fits[1].cost))
    print("\ncorrelations over 0.4:")
    sd = np.sqrt(np.diag(cov))
    for i in range(len(PRIORS)):
        for j in range(i):
            c = cov[i, j] / sd[i] / sd[j]
            if abs(c) > 0.4:
                print("  %s and %s: %+.2f" % (PRIORS[j][0], PRIORS[i][0], c))
    print("\nscale.yaml's doubt: independent directions of what is left open, two standard deviations each")
    keys = ["tension", "loose", "crush", "fibre_blow", "rubber_blow", "latex_blow", "hold", "loss", "plastic"]
    w, v = np.linalg.eigh(cov)
    for k in range(len(w))[::-1]:
        move = to_params(best.x + 2 * math.sqrt(w[k]) * v[:, k])
        move["hold"] = p["hold"] + 0.03 * 2 * math.sqrt(w[k]) * v[6, k]
        d = {key: move[n] - p[n] if n in ("phi0", "hold") else move[n] / p[n] - 1 for key, n in zip(keys, p)}
        print("    - {" + ", ".join("%s: %.3f" % kv for kv in d.items() if abs(kv[1]) >= 0.0005) + "}")
    fs, bodies, f, contact = facts(p, geo)
    print("\n%-95s %8s %8s %7s %6s  pulls on" % ("fact", "value", "wanted", "spread", "off"))
    jac = best.jac[len(PRIORS):]
    for k, fact in enumerate(fs):
        name, value, wanted, spread, kind = fact
        pull = sorted(((abs(jac[k, i]), ("-" if jac[k, i] < 0 else "+") + PRIORS[i][0]) for i in range(len(PRIORS))), reverse=True)
        on = " ".join(n for v, n in pull[:3] if v > 0.1) or "(met)"
        mark = {"least": ">=", "most": "<=", "about": "~"}[kind]
        print("%-95s %8.3f %2s%6.2f %7.2f %+6.2f  %s" % (name, value, mark, wanted, spread, residual(fact), on))
    if "--record" in sys.argv:
        record(p, sd, [a, b], [x.cost for x in fits], cov, fs, f)
    worst = max(fs, key=lambda x: abs(residual(x)))
    print("\nfits worst: %s (%+.2f spreads)" % (worst[0], residual(worst)))
    i = list(STACKS).index("1/8")
    print("medium: %.1f Hz at mf, contact %.2f ms at p and %.2f at ff" % (f[i, 1], contact[i, 0] * 1e3, contact[i, 3] * 1e3))


if __name__ == "__main__":
    main()
