"""The head model of knowledge/strike, written down again for the calibration.

Same laws and names as the Go package (see its documentation); solved with
NumPy for many heads and speeds at once. SI units.
"""

import json
import math
import subprocess

import numpy as np

# Fits of layers.py.
FREE = (0.8011, 0.7584, 1.6604, 0.9729)
HELD = (0.9517, 2.4515, 0.6522, -0.0582, -0.0094)
SLIP = (1.059, 0.209, 0.678, 0.815, 1.617)

# The reference bar, see bar-modes.csv.
REF = dict(mass=0.3439, whole=1.0680, hz=440, ratios=(1, 4, 8.451), shapes=(1.4152, 1.1200, 1.1764), loss=0.0045, soft=0.0)


def free(x):
    p = FREE
    return 1 + x * (p[0] + p[1] * x + 0.75 * math.pi * p[2] * x * x) / (1 + p[3] * x + p[2] * x * x)


def held(x):
    p = HELD
    return 1 + x * (p[0] + x * (p[1] + x * (p[2] + p[4] * x) / (1 + p[3] * x)))


def gent(a):
    return 1e6 * 0.0981 * (56 + 7.62336 * a) / (0.137505 * (254 - 2.54 * a))


def moving(rod, j, t):
    """Mass of a rod that moves with the head in a stroke of t seconds: see
    strike.Rod. rod is (kg/m, N m2), j the head's moment of inertia."""
    if rod is None:
        return 0.0
    m, ei = rod
    w = math.pi / t
    k = (m * w * w / ei) ** 0.25
    x = j * w * w / (ei * k)
    return m / k * (1 - (1 - x) / ((1 - x) ** 2 + 1))


class Body:
    """mass, radius, core (radius, modulus, nu, loss), rubber [(wall, E, loss)]
    inside out, yarn (wall, rest, wound, loss), hold, rod."""

    def __init__(self, **kw):
        self.__dict__.update(kw)

    def weights(self, a):
        layers = self.rubber[::-1]
        depth, phi, out = 0.0, 0.0, []
        x_prev, wall_prev = None, None
        for wall, e, _ in layers:
            slip = self.slip(x_prev, wall, wall_prev)
            depth += wall
            x = a / depth
            f = free(x) + self.hold * (held(x) - free(x))
            p = 1 / f
            out.append((p - phi) * (1 + slip) * 9 / 16 / e)
            phi, x_prev, wall_prev = p, x, wall
        slip = self.slip(x_prev, math.inf, wall_prev)
        nu = self.core[2]
        core = (1 - phi) * (1 + slip) * 0.75 * (1 - nu * nu) / self.core[1]
        return out, core

    def slip(self, x, wall, above):
        if x is None:
            return 0.0
        r = 1.0
        if not math.isinf(wall):
            y = (wall / above) ** SLIP[4]
            r = y / (y + SLIP[3])
        return (1 - self.hold) * r * SLIP[0] / (1 + SLIP[1] * x + SLIP[2] * x * x)

    def yarn_at(self, q):
        """Compression at the middle of the patch, where the pressure is q, and
        the mean pressure over the patch."""
        wall, k0, k1, _ = self.yarn
        c = wall / ((k0 + k1) ** (2 / 3) - k0 ** (2 / 3))
        give = wall - c * ((k0 + k1 + q) ** (2 / 3) - (k0 + q) ** (2 / 3))
        s = 0.6 * c * ((k0 + k1 + q) ** (5 / 3) - (k0 + q) ** (5 / 3) - (k0 + k1) ** (5 / 3) + k0 ** (5 / 3))
        return give, q - (wall * q - s) / np.maximum(give, 1e-300)

    def curve(self, soft, amax=None, n=160):
        """Force and compression over contact radius; soft is the bar's own."""
        amax = amax or 0.75 * self.radius
        a = np.linspace(0, amax, n + 1)[1:]
        w, core = self.weights(a)
        core = core + 0.75 * soft
        target = a * a / self.radius

        def solids(f):
            out = [core * f / a]
            for wi, (wall, _, _) in zip(w, self.rubber[::-1]):
                lam = block(wi * f / a / wall)
                out.append(wall * (1 - lam))
            return out

        if self.yarn is None:
            lo, hi = np.zeros(n), np.full(n, 1.0)
            for _ in range(60):
                m = sum(solids(hi)) < target
                if not m.any():
                    break
                hi = np.where(m, hi * 4, hi)
            for _ in range(60):
                f = (lo + hi) / 2
                m = sum(solids(f)) < target
                lo, hi = np.where(m, f, lo), np.where(m, hi, f)
            parts = solids(f) + [np.zeros(n)]
            d = sum(parts)
        else:
            area = math.pi * a * a
            lo, hi = np.full(n, -2.0), np.full(n, 12.0)  # log10 of the pressure
            for _ in range(60):
                m = (lo + hi) / 2
                y, mean = self.yarn_at(10**m)
                s = sum(solids(mean * area)) + 2 * y < target
                lo, hi = np.where(s, m, lo), np.where(s, hi, m)
            y, mean = self.yarn_at(10**lo)
            f = mean * area
            parts = solids(f) + [y]
            d = sum(parts)
        loss = [self.core[3]] + [r[2] for r in self.rubber[::-1]] + [self.yarn[3] if self.yarn else 0]
        lost = sum(p * l for p, l in zip(parts, loss)) / d
        return np.r_[0, a], np.r_[0, f], np.r_[0, d], np.r_[lost[0], lost], parts


def block(u):
    l = (1 + u * (11.27 + 2.87 * u)) / (1 + u * (12.27 + u * (14.54 + 0.625 * u)))
    for _ in range(3):
        l = l - (l**3 + 3 * u * l * l - 1) / (3 * l * l + 6 * u * l)
    return l


def y_of(z):
    return z * (1 + z * (1 / 3 + z * (1 / 36 + z * (-1 / 270 + z * (1 / 4320 + z / 17010)))))


def drag(loss, v):
    e = np.sqrt(1 - np.clip(loss, 0, 0.9))
    z = 3 * (1 - e) / (1 + e)
    for _ in range(4):
        f = -y_of(-z) - e * y_of(z)
        g = (-y_of(-z - 1e-4) - e * y_of(z + 1e-4) - f) / 1e-4
        z = z - f / g
    return np.where(loss > 0, y_of(z) / v, 0)


def strokes(bodies, speeds, bar=REF, steps=500):
    """Cut-off, contact and peak force, arrays of heads x speeds."""
    nh, ns = len(bodies), len(speeds)
    grid, shares = [], []
    mass = np.zeros((nh, ns))
    tc = np.zeros((nh, ns))
    c = np.zeros((nh, ns))
    tabs, tops = [], []
    for i, b in enumerate(bodies):
        a, f, d, lost, _ = b.curve(bar["soft"])
        w = np.r_[0, np.cumsum((f[1:] + f[:-1]) / 2 * np.diff(d))]
        r = np.linspace(0, math.sqrt(d[-1]), 400)
        tabs.append(np.interp(r, np.sqrt(d), np.r_[0, f[1:] / d[1:] ** 1.5]) * r**3 if False else np.interp(r**2, d, f))
        tops.append(r[-1])
        for s, v in enumerate(speeds):
            m = b.mass + b.rod_mass
            mu = 1 / (1 / m + bar["whole"] / bar["mass"] + sum(x * x for x in bar["shapes"][:1]) / bar["mass"])
            e = 0.5 * mu * v * v
            dm = np.interp(0.8 * e, w, d)
            tc[i, s] = 3 * dm / v
            mass[i, s] = b.mass + b.rod_mass + moving(b.rod, 0.4 * b.mass * b.radius**2, tc[i, s])
            c[i, s] = drag(np.interp(dm, d, lost), v)
    tabs, tops = np.array(tabs)[:, None, :], np.array(tops)[:, None]
    v = np.array(speeds)[None, :] * np.ones((nh, 1))
    h = 2.2 * tc / steps
    x = np.zeros((nh, ns))
    xo = -v * h
    q = [np.zeros((nh, ns)) for _ in range(4)]
    qo = [np.zeros((nh, ns)) for _ in range(4)]
    om = [0] + [2 * math.pi * bar["hz"] * r for r in bar["ratios"]]
    mob = [bar["whole"] / bar["mass"]] + [s * s / bar["mass"] for s in bar["shapes"]]
    cc = [2 * np.cos(w * h) for w in om]
    ss = [h * h * np.sinc(w * h / 2 / math.pi) ** 2 * m for w, m in zip(om, mob)]
    d1, d2 = -v * h, -2 * v * h
    force = np.zeros((steps, nh, ns))
    done = np.zeros((nh, ns), bool)
    ih = np.arange(nh)[:, None] * np.ones((1, ns), int)
    n = tabs.shape[2] - 1
    flat = tabs[:, 0, :]
    for i in range(steps):
        d = x - sum(q)
        rate = (3 * d - 4 * d1 + d2) / (2 * h)
        p = np.clip(np.sqrt(np.maximum(d, 0)) / tops * n, 0, n - 1e-6)
        j = p.astype(int)
        t = p - j
        el = flat[ih, j] * (1 - t) + flat[ih, j + 1] * t
        f = np.maximum(el * (1 + c * rate), 0)
        done |= (i > 5) & (d <= 0)
        f = np.where(done | (d <= 0), 0, f)
        force[i] = f
        x, xo = 2 * x - xo - h * h * f / mass, x
        for k in range(4):
            q[k], qo[k] = cc[k] * q[k] - qo[k] + ss[k] * f, q[k]
        d2, d1 = d1, d
    contact = (force > 0).sum(axis=0) * h
    # cut-off: 10 dB down
    t = np.arange(steps)[:, None, None] * h
    m0 = force.sum(0)
    lo, hi = 0.3 / contact, 2.5 / contact
    for _ in range(30):
        m = (lo + hi) / 2
        ph = 2 * math.pi * m * t
        pw = ((force * np.cos(ph)).sum(0) ** 2 + (force * np.sin(ph)).sum(0) ** 2) / m0**2
        lo, hi = np.where(pw > 0.1, m, lo), np.where(pw > 0.1, hi, m)
    return m, contact, force.max(0)
