# SPDX-License-Identifier: GPL-3.0-or-later
"""The closed form of the interval draws in blocked numpy: closed.py INPUT.json INPUT.z
Prints seconds, then 10, 50 and 90 % of every point, as `study closed` does."""
import json
import math
import sys
import time

import numpy as np

BLOCK = 4096
DUST, X, INTAKE, BUDGET, OIL, AGEING, WATER, DRYING, STEP, SHOCK, EXPONENT, DEBRIS = range(12)
CLASS = [(0.5, 2), (3, 2), (15, 2.5), (50, 2.5), (150, 3)]
DUST_KNEES = np.array([[3, 1.0], [15, 0.7], [50, 0.4], [150, 0.1]])
SHOCK_KNEES = np.array([[1, 1.0], [1.25, 0.9], [1.5, 0.7], [1.75, 0.4], [2.25, 0.1]])
LOAD_KNEES = np.array([[0.1, 1.0], [0.15, 0.7], [0.25, 0.4], [0.35, 0.1]])


def sigma(c):
    x = [math.log(m) for m, _ in CLASS]
    return math.sqrt(0.5) * math.log(np.interp(math.log(c), x, [g for _, g in CLASS]))


def shared(z, levels):
    """What all points have in common, of one block."""
    return {
        "z": z,
        "level": {c: np.exp(sigma(c) * z[DUST]) for c in levels},
        "x": np.minimum(0.5, 0.08 * 1.33 ** z[X]),
        "step": np.maximum(5, 10 + 1.5 * z[STEP]),
        "anchor": 1.8 ** z[AGEING],
        "firm": 1.4 ** z[AGEING],
        "water": 2.0 ** z[WATER],
        "drying": 2.5 ** z[DRYING],
        "exponent": 1.25 ** z[EXPONENT],
    }


def climb(level, start, gain, k):
    pull = k * (level - 100)
    net = gain - pull
    with np.errstate(all="ignore"):
        x = k * ((level - start) / net)
        t = np.where(x > 0, np.log1p(x) / k, (level - start) / net)
    return np.where(net > 1e-12 * np.abs(pull), t, np.inf)


def oil(p, b):
    z, states = b["z"], [s for s in p["states"] if s["share"] > 0]
    use, lives = int(p["use"]), []
    if use & 5:
        spent, drying, water = 0, 0, 0
        for s in states:
            t = np.maximum(s["air"], s["oil"] + (3 if s["measured"] else 7) * z[OIL])
            spent = spent + s["share"] * 10 ** (4750 * (1 / (p["life_t"] + 273.15) - 1 / (t + 273.15)))
            drying = drying + s["share"] * 0.02 * np.clip((t - 60) / 20, 0, 1)
            rise = t - s["air"]
            water = water + s["share"] * (s["washed"] + s["breath"] * rise / (s["air"] + 273.15 + rise))
        life = p["life"] * (b["firm"] if p["firm"] else b["anchor"]) / spent
        gain, k = water * b["water"] / p["kg"], drying * b["drying"]
        start = 100 + p["residual"] * 300
        wet = climb(400, start, gain, k)
        damp = np.minimum(climb(200, start, gain, k), wet)
        with np.errstate(invalid="ignore"):
            t1 = np.where(life > damp, damp + (life - damp) / 2, life)
            t1 = np.where(t1 > wet, wet + (life - damp - 2 * (wet - damp)) / 5, t1)
        if use & 1:
            lives.append(t1)
        if use & 4:
            lives.append(wet)
    if use & 2:
        ref, x = p["ref_dust"], b["x"]
        base = b["level"][ref]
        duty = sum(s["share"] * s["dust"] / ref * b["level"][s["dust"]] for s in states)
        lives.append(p["margin"] * p["manual"] * (1 - x + x * base) / (1 - x + x * duty))
    if use & 8:
        rate = sum(s["share"] * s["lambda"] * 2 ** ((s["oil"] - p["ref_t"]) / b["step"]) for s in states)
        lives.append(p["manual"] / rate)
    least = lives[0]
    for other in lives[1:]:
        least = np.minimum(least, other)
    return least


def product(p, s, b):
    z = b["z"]
    f = np.interp(s["g_load"], LOAD_KNEES[:, 0], LOAD_KNEES[:, 1])
    f *= min(1, 2 ** (-(s["g_t"] - 70) / 15))
    f *= min(1, 1 / s["g_motion"]) if s["g_motion"] > 0 else 1
    if p["acts_dust"]:
        c = s["g_dust"]
        f = f * np.interp(math.log(c) + sigma(c) * z[DUST], np.log(DUST_KNEES[:, 0]), DUST_KNEES[:, 1])
    if p["acts_shock"]:
        k = np.maximum(1, s["g_shock"] + 0.1 * z[SHOCK])
        f = f * np.interp(k, SHOCK_KNEES[:, 0], SHOCK_KNEES[:, 1])
    return np.maximum(0.1, f)


def grease(p, b):
    reference, total = product(p, p["reference"], b), 0
    for s in p["states"]:
        if s["share"] > 0:
            ratio = np.minimum(1, product(p, s, b) / reference)
            total = total + s["share"] / np.maximum(0.1, ratio ** b["exponent"])
    return p["manual"] / total


def main():
    case = json.load(open(sys.argv[1]))
    n, points = case["draws"], case["points"]
    z = np.fromfile(sys.argv[2]).reshape(12, n)
    levels = {p["ref_dust"] for p in points}
    levels |= {s["dust"] for p in points for s in p["states"] if s["dust"]}
    begun = time.process_time()
    t = np.empty((len(points), n))
    for first in range(0, n, BLOCK):
        part = slice(first, first + BLOCK)
        b = shared(z[:, part], levels)
        for i, p in enumerate(points):
            t[i, part] = grease(p, b) if p["grease"] else oil(p, b)
    at = [math.ceil(q * n * (1 - 1e-12)) - 1 for q in (0.1, 0.5, 0.9)]
    quantiles = np.partition(t, at, axis=1)[:, at]
    print("%.6f" % (time.process_time() - begun))
    for row in quantiles:
        print(*("%.15g" % v for v in row))


main()
