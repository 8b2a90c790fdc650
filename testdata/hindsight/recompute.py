#!/usr/bin/env python3
"""Recomputes the figures of a --predictions CSV with nothing but the standard
library, and prints them as JSON: a check by a second program.

    python3 testdata/hindsight/recompute.py predictions.csv
"""
import csv, json, math, sys

rows = list(csv.DictReader(open(sys.argv[1], encoding="utf-8")))
n = len(rows)
bins = {"all": [[0, 0.0, 0] for _ in range(10)], "new": [[0, 0.0, 0] for _ in range(10)]}


def enter(which, p, hit):
    b = bins[which][min(9, int(p * 10))]
    b[0] += 1
    b[1] += p
    b[2] += hit


raw = one = full = 0.0
top1 = top3 = 0
for r in rows:
    moves = [m.split("=") for m in r["moves"].split()]
    known = {m[0]: float(m[2]) for m in moves}
    new = r["played"] not in known
    assert new == (r["was_new"] == "true")
    given = float(r["new"]) if new else known[r["played"]]
    assert abs(sum(known.values()) + float(r["new"]) - 1) < 1e-9
    one -= math.log2(given)
    full -= math.log2(float(r["full"]))
    raw -= math.log2(float(r["raw"]))
    order = sorted(known, key=lambda m: -known[m])
    top1 += not new and known[r["played"]] == known[order[0]]
    top3 += not new and known[r["played"]] >= known[order[min(2, len(order) - 1)]]
    for m, p in known.items():
        enter("all", p, m == r["played"])
    enter("all", float(r["new"]), new)
    enter("new", float(r["new"]), new)


def ece(which):
    return sum(abs(s - h) for _, s, h in bins[which]) / sum(c for c, _, _ in bins[which])


print(json.dumps({
    "predictions": n, "raw_bits": raw / n, "one_event_bits": one / n, "full_bits": full / n,
    "top1": top1 / n, "top3": top3 / n, "ece": ece("all"), "ece_new": ece("new"),
    "reliability": [{"p": s / c, "observed": h / c, "n": c} for c, s, h in bins["all"] if c],
}))
