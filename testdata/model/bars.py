#!/usr/bin/python3
"""Bars of a keyboard by beam finite elements: what a head meets.

Euler-Bernoulli elements with cubic shape functions and the thickness of the
parabola integrated by Gauss points; free at both ends. It reads ../bars.csv,
and for every bar writes its mass and, at the point of the strike (0.42 of the
length), how freely it moves: as a whole, and in its first three bending modes.

    shape_i   = the mode's displacement there, scaled so that its square,
                weighted by the mass, averages 1 over the bar; the mass felt is
                mass / shape_i^2
    whole     = 1 + (distance from the middle)^2 * mass / inertia; the mass felt
                as the bar moves whole is mass / whole

    /usr/bin/python3 bars.py            writes bar-modes.csv
    /usr/bin/python3 bars.py --check    compares with closed forms and published ratios
    /usr/bin/python3 bars.py --cut      finds arch_mm and mid_mm for each bar of bars.csv anew
"""

import csv
import math
import os
import sys

import numpy as np
from scipy.linalg import eigh
from scipy.optimize import brentq, minimize_scalar

HERE = os.path.dirname(os.path.abspath(__file__))
STRIKE = 0.42
ELEMENTS = 60
RATIO = {"marimba": 4, "marimba-4": 4, "vibraphone": 4, "xylophone": 3, "bells": None}


class Bar:
    def __init__(self, length, width, thick, arch, mid, e, rho):
        self.length, self.width, self.thick = length, width, thick
        self.arch, self.mid, self.e, self.rho = arch, mid, e, rho

    def height(self, x):
        x = np.abs(x)
        if self.arch <= 0:
            return np.full_like(x, self.thick)
        inside = self.mid + (self.thick - self.mid) * (x / self.arch) ** 2
        return np.where(x < self.arch, inside, self.thick)

    def matrices(self, n=ELEMENTS):
        edges = np.linspace(-self.length / 2, self.length / 2, n + 1)
        size = 2 * (n + 1)
        k, m = np.zeros((size, size)), np.zeros((size, size))
        gx, gw = np.polynomial.legendre.leggauss(5)
        for i in range(n):
            a, b = edges[i], edges[i + 1]
            l = b - a
            for x, w in zip(gx, gw):
                s = (1 + x) / 2
                h = float(self.height(np.array([a + l * s]))[0])
                shape = np.array([1 - 3 * s**2 + 2 * s**3, l * (s - 2 * s**2 + s**3), 3 * s**2 - 2 * s**3, l * (s**3 - s**2)])
                bend = np.array([-6 + 12 * s, l * (-4 + 6 * s), 6 - 12 * s, l * (6 * s - 2)]) / l**2
                at = slice(2 * i, 2 * i + 4)
                k[at, at] += w * l / 2 * self.e * self.width * h**3 / 12 * np.outer(bend, bend)
                m[at, at] += w * l / 2 * self.rho * self.width * h * np.outer(shape, shape)
        return k, m

    def mass(self):
        return self.rho * self.width * (self.thick * self.length - (self.thick - self.mid) * self.arch * 4 / 3)

    def modes(self, n=3, elements=ELEMENTS):
        """Frequencies in Hz and shapes at STRIKE, square averaging 1 by mass."""
        k, m = self.matrices(elements)
        w2, v = eigh(k, m, subset_by_index=[2, 1 + n])  # two rigid motions first; v.T m v = 1
        f = np.sqrt(w2) / (2 * math.pi)
        p = STRIKE * elements
        i, s = int(p), p - int(p)
        l = self.length / elements
        shape = np.array([1 - 3 * s**2 + 2 * s**3, l * (s - 2 * s**2 + s**3), 3 * s**2 - 2 * s**3, l * (s**3 - s**2)])
        at = shape @ v[2 * i : 2 * i + 4, :] * math.sqrt(self.mass())
        return f, at

    def whole(self):
        x = np.linspace(-self.length / 2, self.length / 2, 20001)
        h = self.height(x)
        inertia = self.rho * self.width * float(np.sum(h * x * x)) * (x[1] - x[0])
        off = (STRIKE - 0.5) * self.length
        return 1 + off * off * self.mass() / inertia


def cut(bar, hz, ratio):
    """Arch and thickness at the middle that tune the first two partials."""

    def mid_for(arch):
        bar.arch = arch
        lo, hi = 0.05 * bar.thick, bar.thick

        def miss(mid):
            bar.mid = mid
            return bar.modes(2, 40)[0][0] - hz

        if miss(lo) * miss(hi) > 0:
            bar.mid = hi if abs(miss(hi)) < abs(miss(lo)) else lo
            return
        bar.mid = brentq(miss, lo, hi, xtol=1e-6)

    def off(share):
        mid_for(share * bar.length)
        f, _ = bar.modes(2, 40)
        return f[1] / f[0] - ratio

    shares = np.linspace(0.15, 0.5, 15)
    offs = [off(s) for s in shares]
    for a, b, x, y in zip(shares, shares[1:], offs, offs[1:]):
        if x * y <= 0:
            share = brentq(off, a, b, xtol=1e-5)
            break
    else:
        share = minimize_scalar(lambda s: abs(off(s)), bounds=(0.15, 0.5), method="bounded").x
    mid_for(share * bar.length)
    return bar


def read():
    with open(os.path.join(HERE, "..", "bars.csv")) as f:
        rows = [l for l in f if not l.startswith("#")]
    for r in csv.DictReader(rows):
        g = lambda k: float(r[k])
        yield r, Bar(g("length_mm") / 1e3, g("width_mm") / 1e3, g("thick_mm") / 1e3, g("arch_mm") / 1e3, g("mid_mm") / 1e3, g("e_gpa") * 1e9, g("rho_kgm3"))


def hertz(note):
    step = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[note[0]]
    return 440 * 2 ** ((12 * (int(note[-1]) + 1) + step - 69) / 12)


def reference():
    """A4 of the five-octave marimba, its size between those of C4 and C5: the
    bar that softness is read on."""
    return cut(Bar(0.365, 0.0535, 0.02235, 0.08, 0.011, 18e9, 900), 440, 4)


def published():
    """The blank of a published beam example (second-hand), cut to its 300 Hz
    and 1 : 4; its author has the third partial at 9.8."""
    return cut(Bar(0.300, 0.060, 0.01915, 0.1, 0.01, 17.96e9, 837), 300, 4)


def check():
    b = Bar(0.3, 0.06, 0.02, 0, 0.02, 18e9, 900)
    f, _ = b.modes(3)
    exact = [4.730041**2, 7.853205**2, 10.995608**2]
    for i in range(3):
        want = exact[i] / (2 * math.pi) * b.thick / b.length**2 * math.sqrt(b.e / b.rho / 12)
        print(f"uniform bar, mode {i+1}: {f[i]:.3f} Hz, closed form {want:.3f}")
        assert abs(f[i] / want - 1) < 1e-4
    print("uniform ratios 1 : %.3f : %.3f (published 1 : 2.757 : 5.404)" % (f[1] / f[0], f[2] / f[0]))
    ref = published()
    f, s = ref.modes(3)
    print("published blank: %.1f g before, third partial %.2f (published 9.8)" % (837 * 0.3 * 0.06 * 0.01915 * 1e3, f[2] / f[0]))
    assert abs(f[2] / f[0] / 9.8 - 1) < 0.06
    ref = reference()
    f, s = ref.modes(3)
    print("reference: arch %.1f mm, middle %.2f mm, mass %.1f g, 1 : %.2f : %.2f, shapes %s, whole %.4f" % (ref.arch * 1e3, ref.mid * 1e3, ref.mass() * 1e3, f[1] / f[0], f[2] / f[0], s, ref.whole()))


def main():
    if "--check" in sys.argv:
        return check()
    out = csv.writer(sys.stdout if "--cut" in sys.argv else open(os.path.join(HERE, "bar-modes.csv"), "w"), lineterminator="\n")
    if "--cut" in sys.argv:
        for r, b in read():
            if RATIO[r["kind"]]:
                cut(b, hertz(r["note"]), RATIO[r["kind"]])
            out.writerow([r["kind"], r["note"], r["length_mm"], r["width_mm"], r["thick_mm"], "%.1f" % (b.arch * 1e3), "%.2f" % (b.mid * 1e3), r["e_gpa"], r["rho_kgm3"]])
        return
    out.writerow("kind note mass_g hz ratio2 ratio3 whole shape1 shape2 shape3".split())
    rows = [(r["kind"], r["note"], b) for r, b in read()] + [("reference", "-", reference())]
    for kind, note, b in rows:
        f, s = b.modes(3)
        s = np.abs(s)
        out.writerow([kind, note, "%.1f" % (b.mass() * 1e3), "%.2f" % f[0], "%.3f" % (f[1] / f[0]), "%.3f" % (f[2] / f[0]), "%.4f" % b.whole(), *("%.4f" % x for x in s)])


if __name__ == "__main__":
    main()
