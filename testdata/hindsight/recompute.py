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
    moves = [m.split("=") for m in r["moves"].split()]  # all legal ones, likeliest first
    p = {m: float(x) for m, _, x in moves}
    count = {m: int(n) for m, n, _ in moves}
    known = {m: p[m] for m in p if count[m]}
    unseen = len(p) - len(known)
    fresh = sum(p[m] for m in p if not count[m])
    played = r["played"]
    new = played not in known
    assert new == (r["was_new"] == "true")
    assert abs(sum(p.values()) - 1) < 1e-9 and abs(fresh - float(r["new"])) < 1e-9
    one -= math.log2(fresh if new else p[played])
    full -= math.log2(p[played])
    raw -= math.log2((0.01 * unseen if new else count[played] + 0.01) / (sum(count.values()) + 0.01 * len(p)))
    order = list(known)
    top1 += not new and played == order[0]
    top3 += not new and played in order[:3]
    for m in known:
        enter("all", p[m], m == played)
    enter("all", fresh, new)
    enter("new", fresh, new)


def ece(which):
    return sum(abs(s - h) for _, s, h in bins[which]) / sum(c for c, _, _ in bins[which])


print(json.dumps({
    "predictions": n, "raw_bits": raw / n, "one_event_bits": one / n, "full_bits": full / n,
    "top1": top1 / n, "top3": top3 / n, "ece": ece("all"), "ece_new": ece("new"),
    "reliability": [{"p": s / c, "observed": h / c, "n": c} for c, s, h in bins["all"] if c],
}))
