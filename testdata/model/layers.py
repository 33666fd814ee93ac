#!/usr/bin/python3
"""A ball pressed on elastic layers, exactly: what the layer factors of
knowledge/strike are fitted to.

A rigid frictionless paraboloid (radius R) on a stack of flat elastic layers
over a rigid or elastic base, axisymmetric, small strains. Between two layers,
and on the base, an interface that is welded, slides freely, or holds by a
shear spring s (Pa/m). Each layer's field is the sum of the four exact solutions
of elasticity for one wave number (u = [A1 + A2 kz]e^-kz ..., any Poisson's
ratio up to 1/2); the contact is the Fredholm equation of the second kind for
the compliance G(k) (as in Sneddon, or Johnson, Contact Mechanics, ch. 5, from
memory), solved by Gauss-Legendre points.

    /usr/bin/python3 layers.py --check   against Hayes' table and Hertz
    /usr/bin/python3 layers.py           writes layer-factors.csv and prints the fits
"""

import csv
import math
import os
import sys

import numpy as np
from scipy.optimize import least_squares

HERE = os.path.dirname(os.path.abspath(__file__))

# Hayes et al. 1972, flat-ended frictionless indenter, layer bonded to a rigid
# base, nu = 1/2: kappa over a/h. Second-hand: two public programs.
HAYES = {0.2: 1.281, 0.4: 1.683, 0.6: 2.211, 0.8: 2.855, 1.0: 3.609, 1.5: 5.970, 2.0: 9.069, 2.5: 13.00, 3: 17.86, 4: 30.75}

FREE, WELDED = 0.0, math.inf


class Layer:
    """From the top down: thickness h (inf for a half-space), Young's modulus e,
    nu, and the shear spring to what lies below (FREE, WELDED or Pa/m)."""

    def __init__(self, h, e, nu=0.5, spring=WELDED):
        self.h, self.e, self.nu, self.spring = h, e, nu, spring
        self.mu = e / (2 * (1 + nu))


def fields(layer, k, z, h):
    """u, w, tau, sigma for A1, A2 (decaying from the top face) and B1, B2
    (decaying from the bottom face, at depth h) at depth z."""
    nu, ka, m = layer.nu, 3 - 4 * layer.nu, 2 * layer.mu * k
    d = math.exp(-k * z)
    x = k * z
    a1 = np.array([1, 1, -m, -m]) * d
    a2 = np.array([x, ka + x, -m * (1 - 2 * nu + x), -m * (2 - 2 * nu + x)]) * d
    if math.isinf(h):
        return np.array([a1, a2])
    y = k * (z - h)
    g = math.exp(y)
    b1 = np.array([1, -1, m, -m]) * g
    b2 = np.array([y, ka - y, m * (y - 1 + 2 * nu), m * (2 - 2 * nu - y)]) * g
    return np.array([a1, a2, b1, b2])


def compliance(layers, k):
    """w over the pressure of one wave number at the top, the base rigid unless
    the last layer is a half-space."""
    sizes = [2 if math.isinf(l.h) else 4 for l in layers]
    at = np.concatenate([[0], np.cumsum(sizes)])
    n = at[-1]
    rows, rhs = [], []

    def row(parts, value=0.0):
        r = np.zeros(n)
        for i, v in parts:
            r[at[i] : at[i + 1]] += v
        rows.append(r)
        rhs.append(value)

    top = fields(layers[0], k, 0, layers[0].h)
    row([(0, top[:, 2])])
    row([(0, top[:, 3])], -1.0)
    for i, l in enumerate(layers):
        if math.isinf(l.h):
            break
        b = fields(l, k, l.h, l.h)
        if i + 1 == len(layers):
            row([(i, b[:, 1])])
            under = None
        else:
            under = fields(layers[i + 1], k, 0, layers[i + 1].h)
            row([(i, b[:, 1]), (i + 1, -under[:, 1])])
            row([(i, b[:, 3]), (i + 1, -under[:, 3])])
        jump = [(i, b[:, 0])] + ([(i + 1, -under[:, 0])] if under is not None else [])
        if l.spring == FREE:
            row([(i, b[:, 2])])
        elif math.isinf(l.spring):
            row(jump)
        else:
            row([(j, l.spring * v) for j, v in jump] + [(i, b[:, 2])])
        if under is not None:
            if l.spring == FREE:
                row([(i + 1, under[:, 2])])
            else:
                row([(i, b[:, 2]), (i + 1, -under[:, 2])])
    a = np.array(rows)
    scale = np.abs(a).max(axis=1)
    col = np.abs(a / scale[:, None]).max(axis=0)
    x = np.linalg.solve(a / scale[:, None] / col, np.array(rhs) / scale) / col
    return float(x[at[0] : at[1]] @ top[:, 1])


class Contact:
    """Solves the contact on a stack; lengths in units that suit it."""

    def __init__(self, layers, reach):
        """reach: the largest contact radius over the total of thin layers."""
        self.layers = layers
        top = layers[0]
        self.star = top.e / (1 - top.nu**2)  # of the top layer
        h = min(1.0 if math.isinf(l.h) else l.h for l in layers)
        thick = sum(l.h for l in layers if not math.isinf(l.h)) or 1.0
        # k from where the stack is thin to where only the top layer counts
        self.k = np.concatenate([[0], np.geomspace(2e-4 / thick, 16 / h, 700)])
        g = [compliance(layers, k) * self.star * k / 2 for k in self.k[1:]]
        self.m = 1 - np.concatenate([g[:1], g])

    def kernel(self, x):
        """Integral over k of (1 - G) cos(kx), by exact integration of the
        piecewise linear 1 - G."""
        # int m cos = [m sin(kx)/x] + sum of slope (cos k2 x - cos k1 x)/x^2,
        # its differences of cosines written as products so that x may be 0
        k, m = self.k, self.m
        x = np.asarray(x)[..., None] / math.pi
        mid, half = (k[1:] + k[:-1]) / 2, np.diff(k) / 2
        terms = np.diff(m) * mid * np.sinc(mid * x) * np.sinc(half * x)
        return m[-1] * k[-1] * np.sinc(k[-1] * x[..., 0]) - terms.sum(axis=-1)

    def solve(self, a, n=32):
        """Force over approach of a flat punch, and force and approach of a
        paraboloid of R = 1, at contact radius a."""
        gx, gw = np.polynomial.legendre.leggauss(n)
        t, w = a * (1 + gx) / 2, a * gw / 2
        near = self.kernel(t[:, None] - t[None, :])
        far = self.kernel(t[:, None] + t[None, :])
        m = np.eye(n) - (near + far) / math.pi * w[None, :]
        flat = np.linalg.solve(m, np.full(n, 2 / math.pi))
        round_ = np.linalg.solve(m, 2 / math.pi * t * t)

        def end(chi, rhs):
            k = (self.kernel(a - t) + self.kernel(a + t)) / math.pi
            return rhs + np.sum(k * w * chi)

        f1, f2 = end(flat, 2 / math.pi), end(round_, 2 / math.pi * a * a)
        delta = f2 / f1  # chi(a) = 0; w = delta - r^2/(2R) gives t^2/R
        p1, p2 = math.pi * self.star * np.sum(w * flat), math.pi * self.star * np.sum(w * round_)
        return p1, delta * p1 - p2, delta


def factor(layers, chi, h, e_ref):
    """Force over Hertz's on a half-space of modulus e_ref (nu 1/2) at the same
    approach, at sqrt(R delta)/h = chi."""
    c = Contact(layers, chi)
    lo, hi = 0.1 * chi * h, 2.5 * chi * h
    for _ in range(40):
        a = math.sqrt(lo * hi)
        _, p, d = c.solve(a)
        if math.sqrt(d) / h < chi:
            lo = a
        else:
            hi = a
        if hi / lo < 1 + 1e-4:
            break
    return p / (16 / 9 * e_ref * d**1.5), a / math.sqrt(d)


def check():
    half = Contact([Layer(math.inf, 1.0, 0.3)], 1)
    _, p, d = half.solve(0.5)
    print("half-space: P/Hertz %.5f, a^2/(R d) %.5f" % (p / (4 / 3 / 0.91 * d**1.5), 0.25 / d))
    c = Contact([Layer(1.0, 1.0, 0.5, WELDED)], 4)
    for ah, want in HAYES.items():
        p, _, _ = c.solve(ah)
        got = p / (2 * ah / 0.75)
        print("a/h %.1f: kappa %.4f, Hayes %.4f (%+.2f %%)" % (ah, got, want, 100 * (got / want - 1)))
        assert abs(got / want - 1) < 0.02
    same = Contact([Layer(1.0, 1.0, 0.5, WELDED), Layer(math.inf, 1.0, 0.5)], 4)
    print("welded to itself: %.4f" % (same.solve(1.0)[1] / (16 / 9 * same.solve(1.0)[2] ** 1.5)))


# The single layers that the factors are fitted to, by chi, and the stacks that
# the slip of sliding slices is fitted to: thickness and modulus from the top down.
CHI = (0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3.5, 5)


def stacks():
    for ratio in (3, 5, 10, 30):
        for chi in (0.2, 0.35, 0.6, 1, 1.5, 2):
            yield [(1.0, 1.0), (math.inf, ratio)], chi
    for h2 in (0.4, 0.7, 1, 1.6):
        for chi in (0.35, 0.6, 1, 1.5, 2):
            yield [(1.0, 1.0), (h2, 1.0)], chi
    for h2 in (0.7, 1, 1.6):
        for ratio in (3, 8):
            for chi in (0.6, 1, 1.5):
                yield [(1.0, 1.0), (h2, 1.0), (math.inf, ratio)], chi
    for h2, h3 in ((1, 1), (0.6, 0.6), (1.4, 0.7), (2, 2)):
        for chi in (0.6, 1, 1.5, 2):
            yield [(1.0, 1.0), (h2, 1.0), (h3, 1.0)], chi


def sliding(x, p):
    return 1 + x * (p[0] + p[1] * x + 0.75 * math.pi * p[2] * x * x) / (1 + p[3] * x + p[2] * x * x)


def bonded(x, p):
    return 1 + x * (p[0] + x * (p[1] + x * (p[2] + p[4] * x) / (1 + p[3] * x)))


def series(ls, chi, p, q):
    """The rule of knowledge/strike for sliding layers, with the fit p of
    sliding and q of the slip: force over Hertz's on the top layer."""
    a, depth, phi, give, above = chi * ls[0][0], 0.0, 0.0, 0.0, None
    for h, e in ls:
        slip = 0.0
        if above is not None:
            x = a / depth
            y = math.inf if math.isinf(h) else (h / above) ** q[4]
            slip = q[0] / (1 + q[1] * x + q[3] * x * x) * (1 if math.isinf(y) else y / (y + q[2]))
        if math.isinf(h):
            n = 1.0
        else:
            depth += h
            n = 1 / sliding(a / depth, p)
        give += (n - phi) * (1 + slip) / e
        phi, above = n, h
    return 1 / give


def main():
    out = csv.writer(open(os.path.join(HERE, "layer-factors.csv"), "w"), lineterminator="\n")
    out.writerow("kind chi factor layers".split())
    x = np.array(CHI)
    free = np.array([factor([Layer(1.0, 1.0, 0.5, FREE)], c, 1.0, 1.0)[0] for c in CHI])
    held = np.array([factor([Layer(1.0, 1.0, 0.5, WELDED)], c, 1.0, 1.0)[0] for c in CHI])
    for c, f, g in zip(CHI, free, held):
        out.writerow(["sliding", c, "%.5f" % f, ""])
        out.writerow(["bonded", c, "%.5f" % g, ""])
    for spring in (0.3, 1.0, 3.0):
        for c in (0.2, 0.5, 1, 1.5, 2.5):
            f = factor([Layer(1.0, 1.0, 0.5, spring)], c, 1.0, 1.0)[0]
            out.writerow(["spring", c, "%.5f" % f, spring])
    p = least_squares(lambda p: sliding(x, p) / free - 1, [0.8, 0.8, 1.6, 1]).x
    b = least_squares(lambda p: bonded(x, p) / held - 1, [1, 2, 1, -0.05, 0]).x
    print("sliding", p, "worst %.2f %%" % (100 * np.abs(sliding(x, p) / free - 1).max()))
    print("bonded", b, "worst %.2f %%" % (100 * np.abs(bonded(x, b) / held - 1).max()))
    cases = list(stacks())
    exact = []
    for ls, chi in cases:
        f = factor([Layer(h, e, 0.5, WELDED if math.isinf(h) else FREE) for h, e in ls], chi, 1.0, 1.0)[0]
        exact.append(f)
        out.writerow(["stack", chi, "%.5f" % f, " ".join("%gx%g" % l for l in ls)])
    off = lambda q: np.array([series(ls, chi, p, q) / f - 1 for (ls, chi), f in zip(cases, exact)])
    q = least_squares(off, [1, 0, 0.85, 0.7, 1.4]).x
    for power in (2, 4):  # towards the least of the worst
        q = least_squares(lambda q: np.sign(off(q)) * np.abs(off(q) * 40) ** power, q).x
    e = off(q)
    print("slip", q, "worst %.2f %%, root mean square %.2f %%" % (100 * np.abs(e).max(), 100 * math.sqrt((e**2).mean())))


if __name__ == "__main__":
    check() if "--check" in sys.argv else main()
