#!/usr/bin/env python3
"""Solve graded-set cases as mixed-integer programs with GLPK.

    solve.py CASE.json ...            print each case's optimum
    solve.py --record CASE.json ...   write it to the case's "optimum" as well
    solve.py --lp CASE.json           print the program in CPLEX LP format

A case is a ladder.Problem as JSON. The formulation below is written from the
cost formula in that type's comment and shares no code with the Go solver:
one binary per rung and item, one whole number of packs per part, and one
slack per gap for each trend. Needs glpsol (Debian: glpk-utils).
"""

import json
import re
import subprocess
import sys
import tempfile


def lp(case):
    rungs, items, parts, w = case["rungs"], case["items"], case["parts"], case["weights"]
    n = len(rungs)
    on = [[i for i, it in enumerate(items) if abs(it["softness"] - t) <= case["reach"] + 1e-9] for t in rungs]
    cost, rows, binaries = [], [], []

    def expr(terms):
        return " ".join(f"{'+' if c >= 0 else '-'} {abs(c)!r} {v}" for c, v in terms) or "0 zero"

    for k, t in enumerate(rungs):
        for i in on[k]:
            binaries.append(f"x{k}_{i}")
            cost.append((w["notch"] * abs(items[i]["softness"] - t) + items[i]["penalty"], f"x{k}_{i}"))
        rows.append(expr([(1, f"x{k}_{i}") for i in on[k]]) + " = 1")

    def move(k, key):  # value on rung k+1 less value on rung k
        return [(items[i][key], f"x{k+1}_{i}") for i in on[k + 1]] + [(-items[i][key], f"x{k}_{i}") for i in on[k]]

    for k in range(n - 1):
        rows.append(expr(move(k, "softness")) + f" >= {case['rise'] - 1e-9!r}")
        for name, trend, key, weight in (("m", case["mass"], "mass_g", w["gram"]), ("d", case["size"], "diameter_mm", w["mm"])):
            if trend in ("grow", "level"):
                rows.append(expr(move(k, key) + [(1, f"{name}{k}")]) + " >= 0")  # slack covers a fall
                cost.append((weight, f"{name}{k}"))
            if trend == "level":
                rows.append(expr([(-c, v) for c, v in move(k, key)] + [(1, f"{name}{k}")]) + " >= 0")
    whole = []
    for p, part in enumerate(parts):
        uses = [(u["amount"], f"x{k}_{i}") for k in range(n) for i in on[k] for u in items[i]["uses"] or [] if u["part"] == p]
        if not uses:
            continue
        if part["pack"]:
            whole.append(f"y{p}")
            cost.append((w["cent"] * part["price"], f"y{p}"))
            uses.append((-part["pack"], f"y{p}"))
        rows.append(expr(uses) + f" <= {part['have']}")
    out = ["Minimize", " cost: " + expr(cost), "Subject To"]
    out += [f" r{i}: {r}" for i, r in enumerate(rows)]
    out += ["Binary", " " + " ".join(binaries)]
    if whole:
        out += ["General", " " + " ".join(whole)]
    return "\n".join(out + ["End", ""])


def solve(case):
    with tempfile.TemporaryDirectory() as d:
        with open(d + "/case.lp", "w") as f:
            f.write(lp(case))
        done = subprocess.run(["glpsol", "--lp", d + "/case.lp", "--mipgap", "0", "-o", d + "/out"], capture_output=True, text=True)
        if "INTEGER OPTIMAL SOLUTION FOUND" in done.stdout:
            with open(d + "/out") as f:
                return float(re.search(r"Objective:\s+cost = ([-0-9.e+]+)", f.read()).group(1))
    if "NO PRIMAL FEASIBLE" in done.stdout or "NO INTEGER FEASIBLE" in done.stdout:
        return None
    sys.exit("glpsol did not finish:\n" + done.stdout[-2000:])


def main(args):
    if args[0] == "--lp":
        print(lp(json.load(open(args[1]))), end="")
        return
    record = args[0] == "--record"
    for path in args[record:]:
        case = json.load(open(path))
        best = solve(case)
        print(path, best)
        if record:
            case["optimum"] = best
            with open(path, "w") as f:
                json.dump(case, f, indent=1)
                f.write("\n")


if __name__ == "__main__":
    main(sys.argv[1:])
