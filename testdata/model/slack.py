"""How much tension turns of yarn lose as later turns squeeze what is under them.

Run: /usr/bin/python3 testdata/model/slack.py     (needs NumPy)

Turns are laid one after the other on a ball that does not give, as in
knowledge/head: each is two strands across the equator, at tension T it presses
T/(2 r^2) inwards, averaged over the ball, and the yarn under it packs as
(p/KE)^(1/3). What lies further in gives way under each new turn, so a turn laid
earlier comes to lie on a smaller radius and is less stretched: of the stretch e that
T gave it, (R - r)/R is lost, and with it that share of its tension (a turn can't
push, so at most all of it). Every turn is settled anew after each one laid.

What is printed is how much of the pressure next to the ball is left, over what the
same turns would press without loss (head.Press), and the softness of the medium
head with the tension that would give that pressure. The stretch of a yarn under the
hand's pull is not known here: woollen and worsted knitting yarns give some 2 to 10 %
at 1 cN/tex (from memory, low), cotton and polyester cord 1 to 3 %. Nothing of what
slows the loss is in it: friction between turns, fibres that bed in for good, and a
hand that makes up for slack by pulling after; nothing of what adds to it either: yarn
that goes on giving with time.
"""

import math

import numpy as np

import calibrate as c
import headmodel as hm

# What calibrate.py comes to.
POSTERIOR = dict(T=3.6, phi0=0.21, KE=65e6, rate=1.42, rubber=1.94, latex=1.07, hold=0.02, loss=0.38, poly=1.39e9)


def wind(turns, tension, stretch, bare, tex, rho, ke, phi0, sweeps=60):
    """Radii and tensions of the turns, inside out, once all are laid."""
    fibre = tex * 1e-6 / rho
    rest = ke * phi0**3
    r = np.zeros(0)
    laid = np.zeros(0)
    t = np.zeros(0)
    for n in range(1, turns + 1):
        r = np.append(r, r[-1] if n > 1 else bare / 2)
        laid = np.append(laid, 0.0)
        t = np.append(t, tension)
        for _ in range(sweeps):
            # Half of a turn's own press is over its middle.
            press = t / (2 * r * r)
            over = np.cumsum(press[::-1])[::-1] - press / 2
            area = 2 * fibre / np.cbrt((rest + over) / ke)
            outer = np.sqrt((bare / 2) ** 2 + np.cumsum(area) / math.pi)
            inner = np.concatenate([[bare / 2], outer[:-1]])
            new = (inner + outer) / 2
            laid[-1] = new[-1]  # the newest has its full tension where it lies
            if stretch > 0:
                want = tension * np.clip(1 - (laid - new) / (laid * stretch), 0, None)
            else:
                want = np.full(n, tension)
            want[-1] = tension
            moved = max(np.abs(new - r).max() / bare, np.abs(want - t).max() / tension)
            r, t = new, t + 0.3 * (want - t)
            if moved < 1e-5:
                break
    return r, t


def main():
    geo = c.heads()
    p = dict(POSTERIOR)
    tex, rho = 370, 1310
    g = geo["1/8"]
    bare = g["layers"][-1][1] / 1e3
    print("medium head, %.1f mm over the rubber, wound of %d tex with %.1f N" % (bare * 1e3, tex, p["T"]))
    print("%-10s %6s %14s %12s %12s %12s" % ("stretch", "turns", "pressure left", "mean tension", "slack turns", "notches"))
    for n in (60, 140, 220):
        r, t = wind(n, p["T"], 0, bare, tex, rho, p["KE"], p["phi0"])
        full = (t / (2 * r * r)).sum()
        for e in (0.02, 0.05, 0.1, 0.2):
            r, t = wind(n, p["T"], e, bare, tex, rho, p["KE"], p["phi0"])
            left = (t / (2 * r * r)).sum() / full
            q = dict(p, T=p["T"] * left)
            base = hm.strokes([c.body(g, p, turns=n), c.body(g, q, turns=n)], c.SPEEDS)[0][:, 1]
            print("%-10s %6d %13.0f%% %11.0f%% %11.0f%% %+12.2f" % ("%.0f %%" % (100 * e), n, 100 * left, 100 * t.mean() / p["T"], 100 * (t < 0.02 * p["T"]).mean(), 6 * math.log2(base[0] / base[1])))


if __name__ == "__main__":
    main()
