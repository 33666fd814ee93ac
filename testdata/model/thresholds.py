#!/usr/bin/python3
"""Carries a threshold on a computed figure from one state of the model to
another: over one list of usual heads, the share of heads that lay below the
old threshold in the old figures lies below the new one in the new.

    /usr/bin/python3 thresholds.py OLD NEW      two binaries of mallow
"""

import json
import subprocess
import sys

import numpy as np

CORES = ["poly-7/8", "poly-1", "poly-1-1/8", "rubber-40a-1", "rubber-50a-1-1/8", "rubber-60a-1", "rubber-75a-1-1/8", "nylon-1"]
SLICES = ["", " + 3/4x1/16@1", " + 3/4x1/8@1", " + 3/4x1/8@1 + 1x1/16@1", " + 3/4x1/8@1 + 1x1/8@1"]
YARNS = [" + wool-light*115", " + wool-medium*140", " + wool-heavy*135", " + acrylic-medium*130", " + cotton-medium*95"]

# name, figure of the JSON, old thresholds
FIGURES = [
    ("contact_ms at mf", lambda h: h["strokes"][1]["contact_ms"], [1.5, 1.8, 2.1]),
    ("yarn_mm", lambda h: h["yarn"]["wall_mm"], [0.8, 1.5, 2, 3]),
    ("opens_up", lambda h: h["opens_up_octaves"], [0.7, 0.8, 1.15, 1.2, 1.6]),
    ("yarn_share_p", lambda h: h["strokes"][0]["share"][-1], [0.25, 0.3, 0.4]),
    ("yarn_share_ff", lambda h: h["strokes"][3]["share"][-1], [0.4]),
    ("core_share_ff", lambda h: h["strokes"][3]["share"][0], [0.3]),
    ("rubber_share_ff", lambda h: sum(h["strokes"][3]["share"][1:-1]), [0.5]),
    ("peak_n at f", lambda h: h["strokes"][2]["peak_n"], [400]),
    ("softness", lambda h: h.get("softness", h.get("steps")), [-5, -3, -2, -1.85, -1.4, -1, 1, 1.75, 2, 2.75, 3]),
    ("cutoff_mf", lambda h: h["strokes"][1]["cutoff_hz"], [600, 800, 1000, 1300]),
]


def heads(binary):
    for c in CORES:
        for s in SLICES:
            for y in YARNS:
                r = subprocess.run([binary, "head", "--json", c + s + y], capture_output=True, text=True)
                if r.returncode == 0 and r.stdout.startswith("{"):
                    yield c + s + y, json.loads(r.stdout)


def main():
    old, new = dict(heads(sys.argv[1])), dict(heads(sys.argv[2]))
    both = [s for s in old if s in new]
    print(len(both), "heads")
    for name, get, marks in FIGURES:
        a = np.sort([get(old[s]) for s in both])
        b = np.sort([get(new[s]) for s in both])
        out = []
        for m in marks:
            share = np.searchsorted(a, m) / len(a)
            out.append("%g -> %.3g (%.0f %%)" % (m, np.quantile(b, share), 100 * share))
        print("%-18s %s   [old %.3g..%.3g, new %.3g..%.3g]" % (name, "; ".join(out), a[0], a[-1], b[0], b[-1]))


if __name__ == "__main__":
    main()
