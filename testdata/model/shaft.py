#!/usr/bin/python3
"""How much stiffer a rubber ball is under a blow for the shaft in it.

Finite elements in three dimensions: half a ball of nearly incompressible
rubber (nu 0.495, bricks of eight nodes with the volume strain taken at the
middle), with and without a rigid rod bonded in it from below to three quarters
of its width. The pressure of Hertz is put on the belt at right angles to the
rod, and the ball's own inertia holds against it. The factor is what the
patch sinks in against the ball's mean, without the rod over with it.

    /usr/bin/python3 shaft.py       writes shaft-factors.csv and prints the fit
"""

import csv
import math
import os
import sys

import numpy as np
from scipy.optimize import least_squares
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

HERE = os.path.dirname(os.path.abspath(__file__))
N = 20  # elements across the ball


def mesh(n=N):
    """Nodes and bricks of the half ball x >= 0: a cube drawn to a ball."""
    y, z = np.linspace(-1, 1, n + 1), np.linspace(-1, 1, n + 1)
    x = np.linspace(0, 1, n // 2 + 1)
    X, Y, Z = np.meshgrid(x, y, z, indexing="ij")
    p = np.stack([X.ravel(), Y.ravel(), Z.ravel()], 1)
    r = np.linalg.norm(p, axis=1)
    m = np.abs(p).max(axis=1)
    # a cube in the middle goes over into the ball outside
    blend = np.clip(m, 0, 1) ** 1.5
    ball = p * (m / np.where(r > 0, r, 1))[:, None]
    p = p * 0.8 * (1 - blend)[:, None] + ball * blend[:, None]
    idx = np.arange(p.shape[0]).reshape(X.shape)
    c = [idx[:-1, :-1, :-1], idx[1:, :-1, :-1], idx[1:, 1:, :-1], idx[:-1, 1:, :-1], idx[:-1, :-1, 1:], idx[1:, :-1, 1:], idx[1:, 1:, 1:], idx[:-1, 1:, 1:]]
    return p, np.stack([a.ravel() for a in c], 1)


SIGN = np.array([[-1, -1, -1], [1, -1, -1], [1, 1, -1], [-1, 1, -1], [-1, -1, 1], [1, -1, 1], [1, 1, 1], [-1, 1, 1]], float)


def shape(s):
    f = 1 + SIGN * s
    n = f.prod(1) / 8
    d = np.stack([SIGN[:, 0] * f[:, 1] * f[:, 2], SIGN[:, 1] * f[:, 0] * f[:, 2], SIGN[:, 2] * f[:, 0] * f[:, 1]], 1) / 8
    return n, d


def assemble(p, el, nu=0.495):
    """Stiffness for modulus 1, lumped volumes of nodes."""
    mu, lam = 1 / (2 * (1 + nu)), nu / ((1 + nu) * (1 - 2 * nu))
    k = lam + 2 * mu / 3
    xe = p[el]
    g = 1 / math.sqrt(3)
    ke = np.zeros((len(el), 24, 24))
    vol = np.zeros(len(el))
    node = np.zeros((len(el), 8))
    div = np.zeros((len(el), 24))
    dev = np.eye(6) * 1.0
    dev[:3, :3] -= 1 / 3
    dev = mu * np.diag([2, 2, 2, 1, 1, 1]) @ dev
    for s in np.array(np.meshgrid([-g, g], [-g, g], [-g, g])).reshape(3, -1).T:
        n, d = shape(s)
        j = np.einsum("eni,nk->eik", xe, d)
        det = np.linalg.det(j)
        dn = np.einsum("nk,eki->eni", d, np.linalg.inv(j))
        b = np.zeros((len(el), 6, 24))
        b[:, 0, 0::3] = dn[:, :, 0]
        b[:, 1, 1::3] = dn[:, :, 1]
        b[:, 2, 2::3] = dn[:, :, 2]
        b[:, 3, 0::3], b[:, 3, 1::3] = dn[:, :, 1], dn[:, :, 0]
        b[:, 4, 1::3], b[:, 4, 2::3] = dn[:, :, 2], dn[:, :, 1]
        b[:, 5, 0::3], b[:, 5, 2::3] = dn[:, :, 2], dn[:, :, 0]
        ke += np.einsum("eai,ab,ebj,e->eij", b, dev, b, det)
        div += (b[:, 0] + b[:, 1] + b[:, 2]) * det[:, None]
        vol += det
        node += n[None, :] * det[:, None]
    ke += k * np.einsum("ei,ej,e->eij", div, div, 1 / vol)
    dof = (3 * el[:, :, None] + np.arange(3)).reshape(len(el), 24)
    i, j = np.repeat(dof, 24, axis=1).ravel(), np.tile(dof, (1, 24)).ravel()
    n = 3 * len(p)
    v = np.zeros(len(p))
    np.add.at(v, el.ravel(), node.ravel())
    return coo_matrix((ke.ravel(), (i, j)), shape=(n, n)).tocsc(), v


def run(ratio, a, depth=0.75, n=N):
    """What the patch of radius a sinks in, ball of radius 1, force 1."""
    p, el = mesh(n)
    k, vol = assemble(p, el)
    # the pressure of Hertz by the area that a node has on the surface
    r = np.linalg.norm(p, axis=1)
    flat = (r > 0.999) & (p[:, 2] > 0)
    q = np.zeros(len(p))
    s2 = p[:, 0] ** 2 + p[:, 1] ** 2
    # areas from the faces of the top
    grid = np.arange(len(p)).reshape(n // 2 + 1, n + 1, n + 1)[:, :, -1]
    for f in ((grid[:-1, :-1], grid[1:, :-1], grid[1:, 1:]), (grid[:-1, :-1], grid[1:, 1:], grid[:-1, 1:])):
        t = np.stack([x.ravel() for x in f], 1)
        e1, e2 = p[t[:, 1]] - p[t[:, 0]], p[t[:, 2]] - p[t[:, 0]]
        area = 0.5 * np.abs(e1[:, 0] * e2[:, 1] - e1[:, 1] * e2[:, 0])
        for w in ((4 / 6, 1 / 6, 1 / 6), (1 / 6, 4 / 6, 1 / 6), (1 / 6, 1 / 6, 4 / 6)):
            m = sum(wi * p[t[:, i]] for i, wi in enumerate(w))
            pr = np.sqrt(np.maximum(1 - (m[:, 0] ** 2 + m[:, 1] ** 2) / a**2, 0)) * area / 3
            for i, wi in enumerate(w):
                np.add.at(q, t[:, i], wi * pr)
    q /= 2 * q.sum()  # a half model carries half the force
    load = np.zeros(3 * len(p))
    load[2::3] = -q + 0.5 * vol / vol.sum()
    free = np.ones(3 * len(p), bool)
    free[0::3][p[:, 0] < 1e-9] = False
    if ratio > 0:
        rod = (p[:, 0] ** 2 + p[:, 2] ** 2 < ratio**2 * 1.0001) & (p[:, 1] < 2 * depth - 1)
        for c in range(3):
            free[c::3][rod] = False
        solid = vol[rod].sum() * 2 / (2 * depth)
        ratio = math.sqrt(solid / math.pi)
    else:
        # hold what has no stiffness: two nodes far from the load
        far = np.argmin(np.linalg.norm(p - [0, 0, -1], axis=1))
        top = np.argmin(np.linalg.norm(p - [0, 0, 0], axis=1))
        free[3 * far + 1] = free[3 * far + 2] = free[3 * top + 1] = False
    i = np.flatnonzero(free)
    u = np.zeros(3 * len(p))
    u[i] = splu(k[i][:, i]).solve(load[i])
    w = u[2::3]
    sink = -(2 * q * w).sum()
    return sink + (w * vol).sum() / vol.sum(), ratio


def main():
    rows = []
    for a in (0.3, 0.45):
        bare, _ = run(0, a)
        # Hertz: the mean sinking, weighted by the pressure, of a half-space
        hertz = 0.75 * 0.75 / a * 0.8
        print("a/R %.2f: bare %.4f, half-space %.4f" % (a, bare, hertz), flush=True)
        for ratio in (0.16, 0.21, 0.26, 0.31, 0.36, 0.42):
            s, real = run(ratio, a)
            rows.append((a, real, bare / s))
            print("  rod %.3f: factor %.3f" % (real, bare / s), flush=True)
    fit = least_squares(lambda q: [1 + q[0] * r ** q[1] - f for a, r, f in rows], [2.4, 2])
    print("1 + %.3f x^%.3f, worst %.3f" % (*fit.x, np.abs(fit.fun).max()))
    with open(os.path.join(HERE, "shaft-factors.csv"), "w") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(["patch_over_radius", "rod_over_ball", "factor"])
        w.writerows([("%.2f" % a, "%.4f" % r, "%.4f" % x) for a, r, x in rows])


if __name__ == "__main__":
    main()
