"""Solves order problems (one JSON problem a line on standard input) with a
general mixed-integer solver and prints one JSON answer a line:
{"status": "optimal" | "infeasible" | "limit", "total": pence, "seconds": s}.

    reference.py highs|cbc|glpk [seconds]

highs is HiGHS inside scipy; cbc and glpk are run on a written model file. Only
the solving is timed, in processor seconds. The model has, for every offer and tier, a binary z and a
whole number n of packs; for every supplier a binary y (used) and f (level
reached), with the strong form z <= y.
"""

import json
import os
import re
import subprocess
import sys
import tempfile
import time


def tiers(offer, most):
    """Yields (fewest packs, most packs, fixed cost, price of a pack)."""
    pack, breaks = offer["pack"], offer["breaks"]
    by_unit = breaks[0]["min"] > 0
    paid = 0  # incremental: cost of all tiers below
    for j, b in enumerate(breaks):
        last = j + 1 == len(breaks)
        top = most if last else min(most, breaks[j + 1]["min"] - 1)
        lo = max(1, -(-b["min"] // pack))
        hi = top // pack
        fixed = 0
        if offer.get("discount") == "incremental" and len(breaks) > 1:
            begin = 0 if j == 0 else (b["min"] - 1 if by_unit else b["min"])
            fixed = paid - begin * b["unit_price"]
            if not last:
                end = breaks[j + 1]["min"] - 1 if by_unit else breaks[j + 1]["min"]
                paid += (end - begin) * b["unit_price"]
        if lo <= hi:
            yield lo, hi, fixed, b["unit_price"] * pack


class Model:
    """Minimise cost*x subject to rows lo <= a*x <= hi, x whole."""

    def __init__(self, problem):
        self.cost, self.upper, self.rows = [], [], []
        lines = {l["id"]: l for l in problem["lines"]}
        used, free, goods = {}, {}, {}
        for s in problem["suppliers"]:
            i = s["id"]
            goods[i] = []
            used[i] = self.var(s["carriage"], 1)
            if s.get("carriage_paid_at") is not None:
                free[i] = self.var(-s["carriage"], 1)
                self.row([(free[i], 1), (used[i], -1)], None, 0)
        units = {i: [] for i in lines}
        places = {}
        for o in problem["offers"]:
            line, s = lines[o["line"]], o["supplier"]
            if None not in (line.get("due_day"), o.get("arrival_day")) and o["arrival_day"] > line["due_day"]:
                continue
            chosen = []
            for lo, hi, fixed, price in tiers(o, line["max"]):
                if lo == hi:
                    z = self.var(fixed + lo * price, 1)
                    units[line["id"]].append((z, lo * o["pack"]))
                    goods[s].append((z, fixed + lo * price))
                else:
                    z, n = self.var(fixed, 1), self.var(price, hi)
                    self.row([(n, 1), (z, -lo)], 0, None)
                    self.row([(n, 1), (z, -hi)], None, 0)
                    units[line["id"]].append((n, o["pack"]))
                    goods[s] += [(n, price), (z, fixed)]
                chosen.append((z, 1))
            if chosen:
                self.row(chosen + [(used[s], -1)], None, 0)
                places.setdefault((line["id"], s), []).append(chosen)
        for i, line in lines.items():
            if units[i]:
                self.row(units[i], line["need"], line["max"])
            elif line["need"] > 0:
                self.row([], 1, None)
        if problem.get("no_split"):
            for i in lines:
                here = []
                for (l, s), offers in places.items():
                    if l == i:
                        at = self.var(0, 1)
                        for chosen in offers:
                            self.row(chosen + [(at, -1)], None, 0)
                        here.append((at, 1))
                self.row(here, None, 1)
        for s in problem["suppliers"]:
            i = s["id"]
            if not goods[i]:
                self.row([(used[i], 1)], None, 0)
            if s.get("minimum_order"):
                self.row(goods[i] + [(used[i], -s["minimum_order"])], 0, None)
            if i in free:
                self.row(goods[i] + [(free[i], -s["carriage_paid_at"])], 0, None)

    def var(self, cost, upper):
        self.cost.append(cost)
        self.upper.append(upper)
        return len(self.cost) - 1

    def row(self, terms, lo, hi):
        self.rows.append(([t for t in terms if t[1] != 0], lo, hi))

    def lp(self, out):
        def expr(terms):
            return " ".join(f"{'+' if c >= 0 else '-'} {abs(c)} x{v}" for v, c in terms)

        out.write("Minimize\n obj: " + (expr([(v, c) for v, c in enumerate(self.cost) if c]) or "0 x0") + "\nSubject To\n")
        for k, (terms, lo, hi) in enumerate(self.rows):
            body = expr(terms) or "0 x0"
            if lo is not None:
                out.write(f" r{k}a: {body} >= {lo}\n")
            if hi is not None:
                out.write(f" r{k}b: {body} <= {hi}\n")
        out.write("Bounds\n")
        for v, u in enumerate(self.upper):
            out.write(f" 0 <= x{v} <= {u}\n")
        out.write("General\n")
        for v in range(len(self.upper)):
            out.write(f" x{v}\n")
        out.write("End\n")


def highs(model, limit):
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix

    data, col, ptr = [], [], [0]
    for terms, _, _ in model.rows:
        data += [c for _, c in terms]
        col += [v for v, _ in terms]
        ptr.append(len(col))
    n = len(model.cost)
    a = csr_matrix((np.array(data, float), np.array(col, int), ptr), shape=(len(model.rows), n))
    lo = np.array([-np.inf if r[1] is None else r[1] for r in model.rows], float)
    hi = np.array([np.inf if r[2] is None else r[2] for r in model.rows], float)
    start = time.process_time()
    res = milp(model.cost, constraints=LinearConstraint(a, lo, hi), integrality=np.ones(n),
               bounds=Bounds(0, np.array(model.upper, float)),
               options={"mip_rel_gap": 0, "time_limit": limit})
    seconds = time.process_time() - start
    if res.status == 0:
        return {"status": "optimal", "total": round(res.fun), "seconds": seconds}
    if res.status == 2:
        return {"status": "infeasible", "seconds": seconds}
    return {"status": "limit", "total": None if res.x is None else round(res.fun),
            "bound": getattr(res, "mip_dual_bound", None), "seconds": seconds}


def outside(model, limit, name):
    with tempfile.TemporaryDirectory() as folder:
        path, sol = os.path.join(folder, "m.lp"), os.path.join(folder, "m.sol")
        with open(path, "w") as out:
            model.lp(out)
        if name == "cbc":
            command = ["cbc", path, "-ratioGap", "0", "-allowableGap", "0", "-sec", str(limit), "-solve", "-solution", sol]
        else:
            command = ["glpsol", "--lp", path, "--cuts", "--fpump", "--tmlim", str(int(limit)), "-o", sol]
        start = os.times()
        log = subprocess.run(command, capture_output=True, text=True).stdout
        end = os.times()
        seconds = end.children_user + end.children_system - start.children_user - start.children_system
        text = open(sol).read() if os.path.exists(sol) else ""
    if name == "cbc":
        found = re.match(r"Optimal - objective value\s+(\S+)", text)
        if found:
            return {"status": "optimal", "total": round(float(found[1])), "seconds": seconds}
        if text.lower().startswith(("infeasible", "integer infeasible")) or "infeasible" in log.lower():
            return {"status": "infeasible", "seconds": seconds}
    else:
        status = re.search(r"Status:\s+(.+)", text)
        found = re.search(r"Objective:\s+\S+\s+=\s+(\S+)", text)
        if status and "INTEGER OPTIMAL" in status[1]:
            return {"status": "optimal", "total": round(float(found[1])), "seconds": seconds}
        if "NO PRIMAL FEASIBLE" in log or "NO INTEGER FEASIBLE" in log or (status and "EMPTY" in status[1]):
            return {"status": "infeasible", "seconds": seconds}
    return {"status": "limit", "seconds": seconds}


def main():
    name, limit = sys.argv[1], float(sys.argv[2]) if len(sys.argv) > 2 else 60.0
    for text in sys.stdin:
        model = Model(json.loads(text))
        answer = highs(model, limit) if name == "highs" else outside(model, limit, name)
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    main()
