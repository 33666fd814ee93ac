#!/usr/bin/python3
"""Reference strokes for knowledge/strike, by SciPy instead of mallow's own code.

The same equations (see the package's documentation), written down again and
left to general-purpose solvers: brentq for the layers in series, solve_ivp
(DOP853) for the stroke, brentq for the cut-off. Run it by hand, with Debian's
python3-scipy; the Go test reads what it wrote:

    /usr/bin/python3 reference.py > reference.json
"""

import json
import math
import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

RTOL, ATOL = 1e-10, 1e-13


def sliding(x):
    """The fit of testdata/model/layers.py to a layer sliding on a rigid base."""
    return 1 + x * (0.8011 + x * (0.7584 + 0.75 * math.pi * 1.6604 * x)) / (1 + x * (0.9729 + 1.6604 * x))


def bonded(x):
    """And to one that is bonded, as far as x = 6."""
    x = min(x, 6)
    return 1 + x * (0.9517 + x * (2.4515 + x * (0.6522 - 0.0094 * x) / (1 - 0.0582 * x)))


def slip(x, thick):
    """And how much more a layer gives for lying under one that slides."""
    y = math.inf if math.isinf(thick) else thick**1.617
    reach = 1.059 if math.isinf(y) else 1.059 * y / (y + 0.815)
    return reach / (1 + x * (0.209 + 0.678 * x))


def block(lin, h):
    """Compression of a neo-Hookean block that would be lin if it stayed soft."""
    u = lin / h
    lam = brentq(lambda l: (l**-2 - l) / 3 - u, 1e-6, 1.0, xtol=1e-15)
    return h * (1 - lam)


GAUSS = tuple((x + 1) / 2 if i == 0 else x / 2 for i, x in enumerate(np.polynomial.legendre.leggauss(40)))


def yarn_give(wall, rest, press, q):
    """Wound yarn under the pressure q in the middle of a patch: what it gives
    there, and the mean pressure, by quadrature of van Wyk's law."""
    u, w = GAUSS
    k = rest + press * u
    q_all = np.append(q * u, q)  # on the way, and q itself
    left = ((k[None, :] + q_all[:, None]) ** (-1 / 3)) @ w / (w @ k ** (-1 / 3))
    give = wall * (1 - left)
    return give[-1], q - q * (w @ give[:-1]) / give[-1]


class Head:
    def __init__(self, body):
        self.b = body
        top = body["reach"]
        self.a = np.linspace(0, top, 700)
        f, d = [0.0], [0.0]
        for a in self.a[1:]:
            fi, di = self.squeeze(a)
            f.append(fi)
            d.append(di)
        self.f_of_root = CubicSpline(np.sqrt(d), f)
        self.deepest = d[-1]

    def squeeze(self, a):
        b = self.b
        radius, (wall, rest, press), hold = b["radius"], b["yarn"], b["hold"]

        def solids(f):
            out, phi, depth, more, above = [], 0.0, 0.0, 1.0, 0.0
            for wall, modulus in reversed(b["rubber"]):  # outside in
                if above:
                    more = 1 + (1 - hold) * slip(a / depth, wall / above)
                depth, above = depth + wall, wall
                x = a / depth
                p = 1 / (sliding(x) + hold * (bonded(x) - sliding(x)))
                out.append(block((p - phi) * more * 9 / 16 * f / (modulus * a), wall))
                phi = p
            if above:
                more = 1 + (1 - hold) * slip(a / depth, math.inf)
            nu = b["poisson"]
            out.append((1 - phi) * more * 0.75 * (1 - nu * nu) / b["core"] * f / a)
            out.append(0.75 * b["flat"] * f / a)
            return sum(out)

        target = a * a / radius
        if wall == 0:
            top = 1.0
            while solids(top) < target:
                top *= 4
            f = brentq(lambda f: solids(f) - target, 0, top, xtol=1e-14, rtol=1e-14)
            return f, target

        def miss(lq):
            g, mean = yarn_give(wall, rest, press, math.exp(lq))
            return solids(math.pi * a * a * mean) + 2 * g - target

        lq = brentq(miss, -15, 30, xtol=1e-13)
        g, mean = yarn_give(wall, rest, press, math.exp(lq))
        return math.pi * a * a * mean, target - g

    def force(self, d):
        if d > self.deepest:
            raise ValueError("past the table of forces")
        return float(self.f_of_root(math.sqrt(d)))


HEADS = {}


def head_of(case):
    body = dict(case["body"], flat=case["bar"]["flat"])
    key = json.dumps(body, sort_keys=True)
    if key not in HEADS:
        HEADS[key] = Head(body)
    return HEADS[key]


def stroke(case):
    head, bar, v0, c = head_of(case), case["bar"], case["speed"], case["drag"]
    m = case["body"]["mass"]
    modes = bar["modes"]

    def gap(y):
        d = y[0] - y[2] - sum(y[4 + 2 * i] for i in range(len(modes)))
        v = y[1] - y[3] - sum(y[5 + 2 * i] for i in range(len(modes)))
        return d, v

    def push(y):
        d, v = gap(y)
        return max(head.force(d) * (1 + c * v), 0.0) if d > 0 else 0.0

    def rate(_, y):
        f = push(y)
        out = [y[1], -f / m, y[3], f * bar["rigid"]]
        for i, (omega, damping, mobility) in enumerate(modes):
            q, u = y[4 + 2 * i], y[5 + 2 * i]
            out += [u, f * mobility - 2 * damping * omega * u - omega * omega * q]
        return out

    def parting(t, y):
        return gap(y)[0] if t > 1e-5 else 1.0

    parting.terminal, parting.direction = True, -1
    y0 = [0.0, v0, 0.0, 0.0] + [0.0] * (2 * len(modes))
    s = solve_ivp(rate, (0, 0.05), y0, method="DOP853", rtol=RTOL, atol=ATOL,
                  events=parting, dense_output=True, max_step=2e-5)
    end = float(s.t_events[0][0])
    last = s.y_events[0][0]
    t = np.linspace(0, end, 8001)
    f = np.array([push(y) for y in s.sol(t).T])
    total = np.trapezoid(f, t) if hasattr(np, "trapezoid") else np.trapz(f, t)

    def drop(hz):
        z = f * np.exp(-2j * math.pi * hz * t)
        z = np.trapezoid(z, t) if hasattr(np, "trapezoid") else np.trapz(z, t)
        return abs(z) / total - math.sqrt(0.1)

    lo, hz = 0.1 / end, 0.1 / end
    while drop(hz) > 0:
        lo, hz = hz, hz + 0.02 / end
    bend = [math.hypot(last[5 + 2 * i], omega * last[4 + 2 * i])
            for i, (omega, _, _) in enumerate(modes)]
    d, v = gap(last)
    return {
        "contact_s": end, "peak_n": float(f.max()), "impulse_ns": m * (v0 - float(last[1])),
        "cutoff_hz": brentq(drop, lo, hz), "rebound": -v / v0, "bend_ms": bend,
    }


def cases():
    poly = {"core": 1.55e9, "poisson": 0.42}
    latex = 1.53e6
    wool, none = [2.5e-3, 0.6e6, 1.2e6], [0, 0, 0]
    bodies = {
        "bare plastic": dict(poly, mass=0.011, radius=0.0143, rubber=[], yarn=none, reach=0.004),
        "bare rubber": dict(core=6.1e6, poisson=0.5, mass=0.0129, radius=0.0143, rubber=[], yarn=none, reach=0.013),
        "yarn alone": dict(poly, mass=0.0155, radius=0.01595, rubber=[], yarn=wool, reach=0.0085),
        "thin slice": dict(poly, mass=0.0186, radius=0.01725, rubber=[[1.27e-3, latex]], yarn=wool, reach=0.0105),
        "medium": dict(poly, mass=0.0221, radius=0.0186, rubber=[[2.6e-3, latex]], yarn=wool, reach=0.0125),
        "three slices": dict(poly, mass=0.0293, radius=0.0212,
                             rubber=[[2.5e-3, latex], [2.3e-3, latex], [1.3e-3, 2.7e6]], yarn=wool, reach=0.015),
        "slice on rubber": dict(core=6.1e6, poisson=0.5, mass=0.0239, radius=0.0186,
                                rubber=[[2.6e-3, latex]], yarn=wool, reach=0.015),
    }
    for name, b in bodies.items():
        b["hold"] = 0.3 if name == "thin slice" else 0.05

    def bar(hz, mass, ratios, loss, shapes, offset):
        return {"rigid": (1 + 12 * offset**2) / mass, "flat": 0.91 / 2e9,
                "modes": [[2 * math.pi * hz * r, loss / 2, s * s / mass] for r, s in zip(ratios, shapes)]}

    # Shapes of a uniform free bar at 0.42 of its length, rounded: any will do.
    shapes = (1.128, 0.746, 1.102)
    bars = {
        "wall": {"rigid": 0.0, "flat": 0.0, "modes": []},
        "reference": bar(300, 0.289, (1, 4, 9.8), 0.0045, shapes, 0.08),
        "low": bar(65.4, 0.441, (1, 4, 10), 0.0045, shapes, 0.08),
        "high": bar(2093, 0.124, (1, 3, 6.5), 0.0045, shapes, 0.08),
    }
    for body, on, speed, drag in [
        ("bare plastic", "wall", 2.0, 0.0), ("bare plastic", "reference", 2.0, 0.03),
        ("bare rubber", "wall", 1.0, 0.0), ("bare rubber", "reference", 3.5, 0.08),
        ("yarn alone", "reference", 1.0, 0.3), ("yarn alone", "high", 3.5, 0.1),
        ("thin slice", "reference", 2.0, 0.2), ("thin slice", "reference", 5.0, 0.07),
        ("medium", "wall", 2.0, 0.0), ("medium", "reference", 1.0, 0.3), ("medium", "reference", 2.0, 0.15),
        ("medium", "reference", 3.5, 0.08), ("medium", "reference", 5.0, 0.06),
        ("medium", "low", 2.0, 0.15), ("medium", "high", 2.0, 0.15),
        ("three slices", "reference", 2.0, 0.12), ("three slices", "low", 5.0, 0.05),
        ("slice on rubber", "reference", 2.0, 0.15), ("slice on rubber", "low", 3.5, 0.08),
    ]:
        yield {"name": f"{body} on {on} at {speed} m/s", "body": bodies[body], "bar": bars[on],
               "speed": speed, "drag": drag}


def main():
    out = {"by": f"scipy {scipy.__version__} solve_ivp DOP853", "rtol": RTOL, "atol": ATOL, "cases": []}
    for case in cases():
        print(case["name"], file=sys.stderr)
        out["cases"].append(dict(case, want=stroke(case)))
    json.dump(out, sys.stdout, indent=1)
    print()


main()
