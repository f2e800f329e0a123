"""Solves choosing problems with HiGHS (scipy.optimize.milp), as a reference for package choose.

Reads one problem a line from standard input, as reference_test.go writes them, and answers one line each.
With --front SECONDS it finds the whole front by epsilon-constraint with a lexicographic second stage.
"""
import json
import sys
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix


class Model:
    def __init__(self, p):
        self.p, self.cost, self.dev, self.upper, self.integer = p, [], [], [], []
        self.rows, self.low, self.high = [], [], []
        self.x = [[self.var(0, o["deviation"]) for o in need["options"]] for need in p["needs"]]
        for xs in self.x:
            self.row({v: 1 for v in xs}, 1, 1)
        goods = [{} for _ in p["suppliers"]]
        users = [[] for _ in p["suppliers"]]
        for k, offer in enumerate(p["offers"]):
            pieces = {}
            for i, need in enumerate(p["needs"]):
                for o, opt in enumerate(need["options"]):
                    first, taken = opt.get("first", (None, 0))
                    if opt["offer"] == k:
                        pieces[self.x[i][o]] = need["pieces"] - taken
                    elif first == k:
                        pieces[self.x[i][o]] = taken
            if not pieces:
                continue
            if offer["most"]:
                self.row(pieces, -np.inf, offer["most"])
            total = sum(need["pieces"] for need in p["needs"] if any(k in (o["offer"], o.get("first", (None,))[0]) for o in need["options"]))
            total = -(-total // offer["pack"])
            packs = {}
            for b, (least, price) in enumerate(offer["breaks"]):
                most = max(total, least) if b + 1 == len(offer["breaks"]) else offer["breaks"][b + 1][0] - 1
                y, z = self.var(price, 0, most), self.var()
                self.row({y: 1, z: -most}, -np.inf, 0)
                self.row({y: 1, z: -least}, 0, np.inf)
                packs[y] = offer["pack"]
                if offer["supplier"] >= 0:
                    goods[offer["supplier"]][y] = price
            self.row({**packs, **{v: -n for v, n in pieces.items()}}, 0, np.inf)
            if offer["most"]:
                self.row(packs, -np.inf, offer["most"])
            if offer["supplier"] >= 0:
                users[offer["supplier"]] += list(pieces)
        for s, sup in enumerate(p["suppliers"]):
            if not users[s]:
                continue
            used = self.var()
            for v in users[s]:
                self.row({v: 1, used: -1}, -np.inf, 0)
            self.row({**{v: -1 for v in users[s]}, used: 1}, -np.inf, 0)
            if sup["minimum"]:
                self.row({**goods[s], used: -sup["minimum"]}, 0, np.inf)
            paid = self.var(sup["carriage"])
            if sup["paid_at"]:
                free = self.var()
                self.row({**goods[s], free: -sup["paid_at"]}, 0, np.inf)
                self.row({paid: 1, free: 1, used: -1}, 0, np.inf)
            else:
                self.row({paid: 1, used: -1}, 0, np.inf)
        for c in p["conflicts"] or []:
            terms = {}
            for i, options in c["sets"]:
                for o in options:
                    terms[self.x[i][o]] = 1
            if c["deviation"] == 0:
                self.row(terms, -np.inf, len(c["sets"]) - 1)
            else:
                w = self.var(0, c["deviation"], 1)
                self.row({**terms, w: -1}, -np.inf, len(c["sets"]) - 1)

    def var(self, cost=0, dev=0, upper=1):
        self.cost.append(cost)
        self.dev.append(dev)
        self.upper.append(upper)
        return len(self.cost) - 1

    def row(self, terms, low, high):
        self.rows.append(terms)
        self.low.append(low)
        self.high.append(high)

    def solve(self, objective, day=None, extra=(), limit=60.0):
        rows, low, high = self.rows + [e[0] for e in extra], self.low + [e[1] for e in extra], self.high + [e[2] for e in extra]
        data, r, c = [], [], []
        for i, terms in enumerate(rows):
            for v, a in terms.items():
                data.append(a)
                r.append(i)
                c.append(v)
        a = csr_matrix((data, (r, c)), shape=(len(rows), len(self.cost)))
        upper = np.array(self.upper, float)
        if day is not None:
            for i, need in enumerate(self.p["needs"]):
                for o, opt in enumerate(need["options"]):
                    if any(self.p["offers"][k]["day"] > day for k in (opt["offer"], *opt.get("first", ())[:1])):
                        upper[self.x[i][o]] = 0
        res = milp(np.array(objective, float), integrality=np.ones(len(self.cost)), bounds=Bounds(0, upper),
                   constraints=LinearConstraint(a, np.array(low, float), np.array(high, float)),
                   options={"mip_rel_gap": 0, "time_limit": max(limit, 0.01)})
        if res.status == 0:
            return "optimal", np.rint(res.x)
        return ("infeasible" if res.status == 2 else "stopped"), None


def front(model, seconds):
    start, points = time.time(), set()
    cost, dev = np.array(model.cost), np.array(model.dev)
    row = lambda coefficients: {int(v): float(coefficients[v]) for v in np.flatnonzero(coefficients)}
    for day in sorted({o["day"] for o in model.p["offers"]}):
        budget = None
        while True:
            left = seconds - (time.time() - start)
            if left <= 0:
                return points, False, time.time() - start
            extra = [] if budget is None else [(row(dev), -np.inf, budget)]
            status, x = model.solve(cost, day, extra, left)
            if status == "stopped":
                return points, False, time.time() - start
            if status == "infeasible":
                break
            best = int(round(cost @ x))
            status, x = model.solve(dev, day, [(row(cost), -np.inf, best)], seconds - (time.time() - start))
            if status != "optimal":
                return points, False, time.time() - start
            least = int(round(dev @ x))
            if not any(c <= best and v <= least for c, _, v in points):
                points.add((best, day, least))
            budget = least - 1
            if budget < 0:
                break
    return points, True, time.time() - start


for line in sys.stdin:
    problem = json.loads(line)
    begun = time.time()
    model = Model(problem)
    if len(sys.argv) > 2 and sys.argv[1] == "--front":
        points, finished, took = front(model, float(sys.argv[2]))
        print(json.dumps({"points": sorted(points), "finished": finished, "seconds": time.time() - begun}), flush=True)
    else:
        status, x = model.solve(model.cost)
        cost = int(round(np.array(model.cost) @ x)) if status == "optimal" else None
        print(json.dumps({"status": status, "cost": cost, "seconds": time.time() - begun}), flush=True)
