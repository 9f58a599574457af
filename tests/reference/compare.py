#!/usr/bin/env python3
"""Holds the figures of commands/src/rules against general-purpose libraries, on a thousand random inputs for each module.

Run it from anywhere: `python3 tests/reference/compare.py [module ...]`. It makes a virtual environment of its own under
target/ with the versions of requirements.txt, builds commands/examples/reckon.rs, asks it every question in one
go, and prints the largest relative difference of each figure. It fails where one is above what its module allows.

Whoever adds a module gives it a function here that draws inputs and one that works them out another way.
"""

import functools
import json
import math
import multiprocessing
import os
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent
HOUSE = HERE.parent.parent
VENV = HOUSE / "target" / "reference-venv"
CASES = int(os.environ.get("CASES", "1000"))
SEED = 20260706


def in_own_environment():
    """Starts this script again under the pinned libraries, unless it already is."""
    if Path(sys.prefix).resolve() == VENV.resolve():
        return
    wanted = (HERE / "requirements.txt").read_text()
    installed = VENV / "installed.txt"
    python = VENV / "bin" / "python"
    if not installed.exists() or installed.read_text() != wanted:
        venv.create(VENV, with_pip=True, clear=True)
        subprocess.run([python, "-m", "pip", "install", "-q", "-r", HERE / "requirements.txt"], check=True)
        installed.write_text(wanted)
    os.execv(python, [python, __file__, *sys.argv[1:]])


in_own_environment()

# One thread for each case: the cases are many and small.
os.environ["OPENBLAS_NUM_THREADS"] = "1"

import numpy as np  # noqa: E402
import numpy_financial  # noqa: E402
import pymannkendall  # noqa: E402
from scipy import stats  # noqa: E402
from scipy.integrate import quad  # noqa: E402
from scipy.optimize import minimize  # noqa: E402


# --- bleach: exact fractions ------------------------------------------------------------------------------------------


def draw_bleach(rng):
    stock = int(rng.integers(1_000, 150_001))
    return {
        "stock_ppm": stock,
        "target_ppm": int(rng.integers(50, stock)),
        "ml": float(rng.uniform(1, 200_000)),
    }


def work_out_bleach(inputs):
    from fractions import Fraction

    stock, target, ml = inputs["stock_ppm"], inputs["target_ppm"], Fraction(inputs["ml"])
    bleach = ml * Fraction(target, stock)
    cubic_inch = Fraction("16.387064")
    return {
        "parts_of_water": float(Fraction(stock, target) - 1),
        "bleach_ml": float(bleach),
        "water_ml": float(ml - bleach),
        "bleach_ounces": float(bleach / (231 * cubic_inch / 128)),
        "made_ppm": float(target),
    }


# --- own_or_rent: numpy-financial -------------------------------------------------------------------------------------


def draw_own_or_rent(rng):
    price = float(rng.uniform(10_000, 5_000_000))
    return {
        "price_cents": price,
        "salvage_cents": price * float(rng.uniform(0, 0.8)),
        "years": float(rng.integers(1, 31)),
        "interest": float(rng.choice([rng.uniform(0.001, 0.3), rng.uniform(0.02, 0.12)])),
        "upkeep_cents": float(rng.uniform(0, 200_000)),
        "rental_cents": float(rng.uniform(100, 20_000)),
    }


def work_out_own_or_rent(inputs):
    def annual(t):
        return float(-numpy_financial.pmt(t["interest"], t["years"], t["price_cents"], -t["salvage_cents"])) + t["upkeep_cents"]

    def days(t):
        return annual(t) / t["rental_cents"]

    def swing(key):
        ends = [dict(inputs, **{key: inputs[key] * by}) for by in (0.8, 1.2)]
        for end in ends:
            if key == "price_cents":
                end[key] = max(end[key], inputs["salvage_cents"])
            if key == "salvage_cents":
                end[key] = min(end[key], inputs["price_cents"])
        return abs(days(ends[1]) - days(ends[0]))

    return {
        "capital_recovery": float(-numpy_financial.pmt(inputs["interest"], inputs["years"], 1.0)),
        "annual_cost": annual(inputs),
        "days": days(inputs),
        "swings": sorted((swing(key) for key in inputs), reverse=True)[:3],
    }


# --- fleet_size: scipy's Poisson, binomial, gamma, Student's t and quadrature ----------------------------------------


def draw_fleet_size(rng):
    load = float(rng.uniform(0.05, 60))
    surfaces = int(rng.integers(1, 80))
    day = 86_400
    to = int(rng.integers(30, 800)) * day
    uses = []
    for _ in range(int(rng.integers(1, 60))):
        start = int(rng.integers(-60 * day, to))
        end = start + int(rng.exponential(30 * day))
        uses.append([start, None if end > to else end])
    # One that surely ends in the window, so that there is a mean stay.
    uses.append([-day, day])
    return {
        "load": load,
        "beds": math.ceil(load) + int(rng.integers(1, 100)),
        "surfaces": surfaces,
        "promise": float(rng.uniform(0.001, 0.3)),
        "uses": uses,
        "found_none": int(rng.integers(0, 5)),
        "to": to,
    }


def work_out_fleet_size(inputs):
    load, beds = inputs["load"], inputs["beds"]

    def erlang(n):
        # Logarithms, because the ratio itself runs out of digits where almost nothing is lost.
        return float(np.exp(stats.poisson.logpmf(n, load) - stats.poisson.logcdf(n, load)))

    def engset(n):
        if n >= beds:
            return 0.0
        others = stats.binom(beds - 1, load / beds)
        return float(np.exp(others.logpmf(n) - others.logcdf(n)))

    def curve(others):
        n = np.arange(inputs["surfaces"] + 1)
        shares = np.exp(others.logpmf(n) - others.logcdf(n))
        return np.where(n >= beds, 0.0, shares).tolist() if others.dist.name == "binom" else shares.tolist()

    def fewest(shortfall):
        return next(n for n in range(1000) if shortfall(n) <= inputs["promise"])

    to = inputs["to"]
    requests = inputs["found_none"] + sum(0 <= start < to for start, _ in inputs["uses"])
    ended = sum(end is not None and 0 <= end < to for _, end in inputs["uses"])
    used = sum(max(0, min(to if end is None else end, to) - max(start, 0)) for start, end in inputs["uses"])
    days = to / 86_400
    low = stats.gamma.ppf(0.025, requests) if requests else 0.0
    stay, mean = used / 86_400 / ended, used / to

    def in_use(begin, end):
        return sum(max(0, min(end, to if out is None else out) - max(begin, start)) for start, out in inputs["uses"])

    parts = [in_use(to * part / 5, to * (part + 1) / 5) / (to / 5) for part in range(5)]
    by_parts = stats.t.ppf(0.975, 4) * stats.sem(parts)

    def between(of_beds):
        # The variance of a mean over a time is the double integral of the correlation; here by quadrature.
        free = max(0.0, 1 - mean / of_beds) if of_beds else 1.0
        variance, alike = mean * free, stay * free
        over = quad(lambda lag: 2 * (1 - lag) * math.exp(-lag * days / alike), 0, 1, epsabs=1e-13, epsrel=1e-12, points=[min(1, alike / days)])[0] if alike else 0.0
        off = max(by_parts, float(stats.t.ppf(0.975, max(1, ended - 1)) * math.sqrt(variance * over)))
        return [mean, max(0.0, mean - off), min(mean + off, max(of_beds, mean) if of_beds else math.inf)]

    return {
        "erlang": erlang(inputs["surfaces"]),
        "engset": engset(inputs["surfaces"]),
        "fewest": [fewest(erlang), fewest(engset)],
        "curves": [curve(stats.poisson(load)), curve(stats.binom(beds - 1, load / beds))],
        "offered": inputs["promise"] * load,
        "requests_a_day": [requests / days, float(low) / days, float(stats.gamma.ppf(0.975, requests + 1)) / days],
        "stay_days": [
            used / 86_400 / ended,
            float(used / 86_400 / stats.gamma.ppf(0.975, ended + 1)),
            float(used / 86_400 / stats.gamma.ppf(0.025, ended)),
        ],
        "load": [between(None), between(beds)],
    }


# --- order_point: scipy's Poisson quantile --------------------------------------------------------------------------


def draw_order_point(rng):
    return {
        "mean": float(rng.choice([rng.uniform(0.001, 10), rng.uniform(10, 2_000)])),
        "service": float(rng.choice([rng.uniform(0.01, 0.99), rng.uniform(0.99, 0.999_999)])),
        "on_hand": int(rng.integers(0, 500)),
    }


def work_out_order_point(inputs):
    return {
        "pieces": int(stats.poisson.ppf(inputs["service"], inputs["mean"])),
        "days_left": inputs["on_hand"] / inputs["mean"],
    }


# --- trend: scipy's theilslopes and kendalltau, pymannkendall, every order of few readings ----------------------------


def draw_trend(rng):
    n = int(rng.choice([rng.integers(4, 8), rng.integers(8, 60)]))
    # Hours as parts of a day; few readings at equal times, many with equal values.
    days = np.round(np.sort(rng.uniform(0, 90, n)) * 24) / 24
    values = np.round(rng.normal(300, 12, n) - days * rng.uniform(-0.5, 1.5), int(rng.integers(-1, 2)))
    values[0] += 0.5  # Never all alike.
    return {
        "days": days.tolist(),
        "values": values.tolist(),
        "limit": float(rng.uniform(150, 290)),
        "newest": float(days[-1]),
        "step": float(rng.choice([0.001, 5.0, 31.75])),
    }


def every_order(days, values):
    """The two-sided chance by counting all orders: for at most seven readings."""
    from itertools import permutations

    later = np.sign(np.subtract.outer(days, days))
    orders = np.array(list(permutations(values)))
    signs = np.sign(orders[:, :, None] - orders[:, None, :])
    s = np.abs((signs * later).sum(axis=(1, 2)) / 2)
    seen = abs((np.sign(np.subtract.outer(values, values)) * later).sum() / 2)
    return float((s >= seen - 1e-9).mean())


def work_out_trend(inputs):
    days, values = np.array(inputs["days"]), np.array(inputs["values"])
    n = len(days)
    slope, level, limits = line(days, values)
    untied_days = len(set(inputs["days"])) == n
    answer = {
        "slope": slope,
        "level": level,
        "limits": limits,
        "crossing": crossing(inputs, slope, limits),
        "chart": chart(values, inputs["step"]),
        "stand_out": int((np.abs(values - values.mean()) > 3 * max(np.abs(np.diff(values)).mean() / 1.128, inputs["step"])).sum()),
    }
    if untied_days:
        test = pymannkendall.original_test(values)
        answer["s"] = int(test.s)
        answer["variance"] = float(test.var_s)
        if n > 10:
            # Its own p, 2 (1 - cdf), has no digits left where there is hardly a chance.
            answer["p"] = float(2 * stats.norm.sf(abs(test.z)))
    if n <= 7:
        answer["p"] = every_order(days, values)
    elif n <= 10 and untied_days and len(set(inputs["values"])) == n:
        answer["p"] = float(stats.kendalltau(days, values, method="exact").pvalue)
    return answer


def line(days, values):
    n = len(days)
    found = stats.theilslopes(values, days, alpha=0.95, method="separate")
    pairs = sum(days[j] > days[i] for i in range(n) for j in range(i + 1, n))
    # scipy stops at the first and the last slope where the limit lies outside; we say there is none.
    sen_variance = n * (n - 1) * (2 * n + 5)
    for of in (days, values):
        _, tied = np.unique(of, return_counts=True)
        sen_variance -= int((tied * (tied - 1) * (2 * tied + 5)).sum())
    half = stats.norm.ppf(0.975) * math.sqrt(max(sen_variance, 0) / 18)
    inside = sen_variance > 0 and round((pairs - half) / 2) >= 1
    limits = [float(found.low_slope), float(found.high_slope)] if inside else [None, None]
    return float(found.slope), float(found.intercept), limits


def crossing(inputs, slope, limits):
    """By lines through the medians, with numpy's polynomial roots."""
    middle = float(np.median(inputs["days"])), float(np.median(inputs["values"]))

    def meets(slope):
        if slope is None or slope >= 0:
            return None
        return float(np.roots([slope, middle[1] - slope * middle[0] - inputs["limit"]])[0])

    if middle[1] + slope * (inputs["newest"] - middle[0]) <= inputs["limit"]:
        return "past"
    if slope >= 0:
        return "never"
    return [meets(limits[0]), meets(slope), meets(limits[1])]


def chart(values, step):
    ranges = np.abs(np.diff(values))
    mean, spread = float(values.mean()), 3 * max(float(ranges.mean()) / 1.128, step)
    return [mean, float(ranges.mean()), mean - spread, mean + spread, 3.267 * float(ranges.mean())]


# --- drift: the same libraries on the means of days -------------------------------------------------------------------


def draw_drift(rng):
    n = int(rng.choice([rng.integers(8, 11), rng.integers(11, 61)]))
    seconds = np.cumsum(rng.integers(3_600, 60_000, n))
    values = rng.normal(rng.uniform(280, 400), rng.uniform(2, 20), n) - seconds / 86_400 * rng.uniform(-1, 4)
    grain = int(rng.choice([1, 32, 64])) if n > 10 else 1
    tenths = (np.round(values / grain) * grain).astype(int)
    if n <= 10:  # Counted orders are compared where no two readings tie.
        tenths = tenths * 16 + rng.permutation(n)
    return {
        "readings": [[int(at), int(air)] for at, air in zip(seconds, tenths)],
        "low": int(254 * (16 if n <= 10 else 1)),
        "at_least": int(rng.integers(8, 25)),
        "days": int(rng.integers(1, 8)),
        "odds": int(rng.choice([20, 200, 1_000])),
        "fall": int(rng.integers(1, 65)),
        "horizon": int(rng.integers(3, 60)),
    }


def work_out_drift(inputs):
    seconds, air = np.array(inputs["readings"]).T
    days = (seconds - seconds[0]) / 86_400
    of_day = np.floor(days)
    means = [(days[of_day == day].mean(), air[of_day == day].mean()) for day in np.unique(of_day)]
    at, value = np.array(means).T
    n, chance = len(air), 1_000_000
    test = pymannkendall.original_test(air)
    if test.s < 0:
        p = stats.kendalltau(days, air, method="exact").pvalue if n <= 10 else 2 * stats.norm.sf(abs(test.z))
        chance = max(1, math.ceil(p / 2 * 1_000_000 - 1e-6))
    answer = {"chance": chance, "rare": chance * inputs["odds"] <= 1_000_000, "line": None, "crossing": None, "losing": False}
    if len(at) < 2:
        return answer
    slope, level, limits = line(at, value)
    newest = float(days[-1])
    meets = crossing({"days": at, "values": value, "limit": inputs["low"], "newest": newest}, slope, limits)
    answer["line"] = [slope, level, *limits]
    answer["crossing"] = meets
    soon = meets == "past" or (meets != "never" and meets[1] - newest <= inputs["horizon"])
    long = n >= inputs["at_least"] and newest >= inputs["days"]
    answer["losing"] = bool(long and -slope * newest >= inputs["fall"] and soon)
    return answer


# --- filter_life: scipy's Nelder-Mead, and its SLSQP without a shape ----------------------------------------------------


def draw_filter_life(rng):
    """Filters with Weibull lives, looked at every five to fifteen whole days until dirty or ninety days old."""
    shape, scale = rng.uniform(0.8, 4), rng.uniform(15, 60)
    spans = []
    for _ in range(int(rng.integers(3, 60))):
        dirty, clean, stop = scale * rng.weibull(shape), 0, int(rng.integers(10, 91))
        while True:
            look = clean + int(rng.integers(5, 16))
            if look > stop:
                if clean:
                    spans.append([clean, None])
                break
            if look >= dirty:
                spans.append([clean, look])
                break
            clean = look
    # One that says something, where all were left alone too early.
    spans.append([7, None])
    return {
        "spans": spans,
        "chance": float(rng.uniform(0.02, 0.4)),
        "age": int(rng.integers(0, 30)),
        "limit": int(rng.integers(5, 60)),
    }


def likeliest(value, start):
    """The top by Nelder and Mead's search, which knows nothing of derivatives, in logarithms."""
    for _ in range(3):  # Again from where it stopped, for the last digits.
        options = {"xatol": 1e-12, "fatol": 1e-14, "maxfev": 4000}
        start = minimize(lambda at: -value(np.exp(at)), start, method="Nelder-Mead", options=options).x
    return [float(found) for found in np.exp(start)]


def work_out_filter_life(inputs):
    spans = inputs["spans"]
    chance, age, limit = inputs["chance"], inputs["age"], inputs["limit"]
    low = np.array([span[0] for span in spans], dtype=float)
    high = np.array([math.inf if span[1] is None else span[1] for span in spans], dtype=float)
    answer = {}
    answer["spread"], answer["spans"] = without_a_shape(low, high)
    ended = np.isfinite(high)
    if not ended.any():
        answer["life"] = ["no failures", -low.sum() / math.log(0.05)]
        answer["age"] = answer["cycle"] = answer["deviation"] = answer["dirty_by"] = answer["steady"] = None
        return answer
    value = likelihood(low, high)
    if low.max() > high.min():
        scale, shape = at = likeliest(value, np.log([30.0, 1.0]))
        answer["life"] = ["weibull", shape, scale, value([scale, shape])]
    else:
        at, shape = likeliest(value, np.log([30.0])), 1.0
        (scale,) = at
        answer["life"] = ["exponential", scale, value([scale])]
    answer["deviation"] = left_open(value, np.log(at), age)
    law = stats.weibull_min(shape, scale=scale)
    answer["age"] = float(law.ppf(chance))
    answer["dirty_by"] = float(law.cdf(limit))
    answer["steady"] = likeliest(value, np.log([30.0]))[0]
    free = float(law.isf(law.sf(age) * (1 - chance))) - age
    days = min(limit, max(1, math.floor(free + 1e-9)))
    answer["cycle"] = [days, float(1 - law.sf(age + days) / law.sf(age))]
    return answer


def likelihood(low, high):
    """The logarithm of the likelihood of a scale and, where there is one, a shape."""

    def value(at):
        scale, shape = at[0], (at[1] if len(at) > 1 else 1.0)
        return float(np.log(np.exp(-((low / scale) ** shape)) - np.exp(-((high / scale) ** shape))).sum())

    return value


def added(at, age, days):
    """What so many days add to the hazard."""
    scale, shape = math.exp(at[0]), (math.exp(at[1]) if len(at) > 1 else 1.0)
    return ((age + days) / scale) ** shape - (age / scale) ** shape


def left_open(value, at, age, each=(7,)):
    """The standard deviation of the logarithm of what days add to the hazard, by the delta method and differences alone; of a
    week, or a list."""
    step = 1e-3 * np.eye(len(at))
    top = lambda at: -value(np.exp(at))
    curve = np.array(
        [
            [(top(at + a + b) - top(at + a - b) - top(at - a + b) + top(at - a - b)) / 4e-6 for b in step]
            for a in step
        ]
    )
    spread = np.linalg.inv(curve)
    found = []
    for days in each:
        log = lambda at: math.log(added(at, age, days))
        slope = np.array([(log(at + one) - log(at - one)) / 2e-3 for one in step])
        found.append(math.sqrt(slope @ spread @ slope))
    return found if len(found) > 1 else found[0]


def without_a_shape(low, high):
    """The top of the likelihood, as the geometric mean of what it gives each span, and that itself, which is unique where
    the masses may not be: by scipy's SLSQP, over every interval between two ages that a look was at."""
    ages = np.unique(np.concatenate([low, high]))
    inside = ((ages[:-1] >= low[:, None]) & (ages[1:] <= high[:, None])).astype(float)
    count = inside.shape[1]
    # With the multiplier of the sum known to be the number of spans, only the signs are left to keep.
    found = minimize(
        lambda mass: -np.log(np.maximum(inside @ mass, 1e-300)).mean() + mass.sum(),
        np.full(count, 1 / count),
        jac=lambda mass: -(inside / (inside @ mass)[:, None]).mean(axis=0) + 1,
        bounds=[(0, 1)] * count,
        constraints={"type": "eq", "fun": lambda mass: mass.sum() - 1, "jac": lambda mass: np.ones(count)},
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 2000},
    )
    of = inside @ (found.x / found.x.sum())
    return float(np.exp(np.log(of).mean())), of.tolist()


# --- filter_cycle: the same searches; scipy's chi-squared and normal quantiles ---------------------------------------


STEPS = [1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 17, 21, 28, 35, 42, 56, 70, 84, 112, 140, 168]


def draw_filter_cycle(rng):
    while True:
        inputs = draw_filter_life(rng)
        if any(by is not None for _, by in inputs["spans"]):
            return {key: inputs[key] for key in ("spans", "chance", "age")}


def more_early(low, high, at):
    """Whether by an age at which 5, 10 or 20 in 100 are dirty so many were that a Poisson count is so large one time in five or less."""
    scale, shape = math.exp(at[0]), (math.exp(at[1]) if len(at) > 1 else 1.0)
    law = stats.weibull_min(shape, scale=scale)
    for age in law.ppf([0.05, 0.1, 0.2]):
        dirty = high <= age
        expected = -law.logsf(np.minimum(low, age)).sum() + (1 - law.sf(high[dirty]) / law.sf(low[dirty])).sum()
        if stats.poisson.sf(dirty.sum() - 1, expected) < 0.2:
            return True
    return False


def work_out_filter_cycle(inputs):
    """Which law the looks insist on, whether they follow it, and the longest days whose chance stays in bounds at its 80% limit."""
    low = np.array([span[0] for span in inputs["spans"]], dtype=float)
    high = np.array([math.inf if span[1] is None else span[1] for span in inputs["spans"]], dtype=float)
    value = likelihood(low, high)
    at, shaped, apart = np.log(likeliest(value, np.log([30.0]))), False, False
    if low.max() > high.min():
        with_shape = np.log(likeliest(value, np.log([30.0, 1.0])))
        if 2 * (value(np.exp(with_shape)) - value(np.exp(at))) > stats.chi2.ppf(0.95, 1):
            # A shape under 1 is never taken, and then one curve is not what the looks follow.
            shaped, apart = with_shape[1] > 0, with_shape[1] <= 0
            at = with_shape if shaped else at
    apart = bool(apart or more_early(low, high, at))
    most, sure, age = -math.log1p(-inputs["chance"]), stats.norm.ppf(0.8), inputs["age"]
    each = range(1, STEPS[-1] + 1)
    bounds = [added(at, age, days) * math.exp(sure * of) for days, of in zip(each, left_open(value, at, age, each))]
    # Where the bound is as good as met, differences cannot tell which of two days it is.
    days = [next((n for n, bound in enumerate(bounds) if bound > most * by), STEPS[-1]) for by in (0.998, 1.002)]
    days = [max(1, n) for n in days]
    step = [max(step for step in STEPS if step <= n) for n in days]
    # What was seen without a curve may bring it nearer; how mass lies in it is not unique, so its bound is only held to be kept.
    return {"shape": bool(shaped), "apart": apart, "kept": True, "days": {"from": days[0], "to": days[1]}, "step": {"from": step[0], "to": step[1]}}


# --- share: scipy's Wilson interval -----------------------------------------------------------------------------------


def draw_share(rng):
    of = int(rng.choice([rng.integers(1, 40), rng.integers(1, 100_000)]))
    return {"on_time": int(rng.integers(0, of + 1)), "of": of}


def work_out_share(inputs):
    limits = stats.binomtest(inputs["on_time"], inputs["of"]).proportion_ci(0.95, method="wilson")
    return {
        "share": inputs["on_time"] / inputs["of"],
        "limits": [float(limits.low), float(limits.high)],
    }


# --- waits: scipy's ecdf of censored data; lifelines' percentiles -----------------------------------------------------


def draw_waits(rng):
    n = int(rng.integers(1, 200))
    return {
        "waits": [
            [float(round(rng.exponential(20), int(rng.integers(0, 3)))), bool(rng.random() < rng.choice([0.6, 0.95]))]
            for _ in range(n)
        ],
        "share": float(rng.uniform(0.01, 0.99)),
    }


def work_out_waits(inputs):
    from lifelines import KaplanMeierFitter
    from lifelines.utils import qth_survival_time

    times = np.array([time for time, _ in inputs["waits"]])
    over = np.array([over for _, over in inputs["waits"]])
    curve = stats.ecdf(stats.CensoredData.right_censored(times, ~over)).sf
    steps = np.isin(curve.quantiles, times[over])
    share_waiting = KaplanMeierFitter().fit(times, over).survival_function_

    def within(share):
        # A hair above, for the last digits of its products.
        found = float(qth_survival_time(1 - share + 1e-12, share_waiting))
        return found if math.isfinite(found) else None

    return {
        "times": curve.quantiles[steps].tolist(),
        "waiting": curve.probabilities[steps].tolist(),
        "median": within(0.5),
        "ninetieth": within(0.9),
        "within": within(inputs["share"]),
    }


# --- The comparison ---------------------------------------------------------------------------------------------------

# What is drawn, how it is worked out here, and the largest relative difference that is allowed; of a figure by name where
# the library comes less near.
MODULES = {
    "bleach": (draw_bleach, work_out_bleach, 1e-12),
    "drift": (draw_drift, work_out_drift, 1e-9),
    # Days, and whether there is a shape: the same ones.
    "filter_cycle": (draw_filter_cycle, work_out_filter_cycle, 0),
    # As near as a search without derivatives, and SLSQP, come to a top that is flat.
    "filter_life": (draw_filter_life, work_out_filter_life, {"spread": 1e-8, "spans": 1e-3, "deviation": 1e-3, "other": 1e-6}),
    "fleet_size": (draw_fleet_size, work_out_fleet_size, 1e-10),
    "order_point": (draw_order_point, work_out_order_point, 1e-12),
    "own_or_rent": (draw_own_or_rent, work_out_own_or_rent, 1e-10),
    "share": (draw_share, work_out_share, 1e-9),
    "trend": (draw_trend, work_out_trend, 1e-9),
    "waits": (draw_waits, work_out_waits, 1e-12),
}


@functools.cache
def our_side():
    """The program that answers for our side."""
    if built := os.environ.get("RECKON"):
        return built
    # Of the whole workspace, so that nothing is built twice over with another choice of features.
    subprocess.run(["cargo", "build", "-q", "--workspace", "--example", "reckon"], check=True, cwd=HOUSE)
    return HOUSE / os.environ.get("CARGO_TARGET_DIR", "target") / "debug" / "examples" / "reckon"


def ask(questions):
    """The answers of our side, one for each question."""
    lines = "".join(json.dumps(question) + "\n" for question in questions)
    done = subprocess.run([our_side()], input=lines, capture_output=True, text=True, cwd=HOUSE)
    if done.returncode != 0:
        sys.exit(done.stderr)
    return [json.loads(line) for line in done.stdout.splitlines()]


def difference(ours, theirs):
    """The largest relative difference; where one of both is no figure and the other is, or it is outside, infinite."""
    if isinstance(theirs, dict):
        return 0.0 if ours is not None and theirs["from"] <= ours <= theirs["to"] else math.inf
    if isinstance(theirs, (list, tuple)):
        if not isinstance(ours, list) or len(ours) != len(theirs):
            return math.inf
        return max((difference(a, b) for a, b in zip(ours, theirs)), default=0.0)
    if ours is None or theirs is None or isinstance(theirs, (str, bool)):
        return 0.0 if ours == theirs else math.inf
    if ours == theirs:
        return 0.0
    return abs(ours - theirs) / max(abs(ours), abs(theirs))


def main(wanted):
    failed = False
    with multiprocessing.Pool() as pool:
        for name in wanted or MODULES:
            failed |= compare(name, pool)
    return 1 if failed else 0


def compare(name, pool):
    """Prints the largest difference of each figure of a module; whether one of them is too large."""
    draw, work_out, allowed = MODULES[name]
    rng = np.random.default_rng(SEED)
    inputs = [draw(rng) for _ in range(CASES)]
    answers = ask([{"module": name, "inputs": case} for case in inputs])
    if len(answers) != CASES:
        sys.exit(f"{name}: {len(answers)} answers to {CASES} questions")
    largest = {}
    for case, ours, theirs in zip(inputs, answers, pool.map(work_out, inputs, chunksize=8)):
        for key, value in theirs.items():
            found = difference(ours.get(key), value)
            if found > largest.get(key, (-1.0,))[0]:
                largest[key] = (found, case, ours.get(key), value)
    failed = False
    for key, (found, case, ours, theirs) in largest.items():
        most = allowed.get(key, allowed["other"]) if isinstance(allowed, dict) else allowed
        print(f"{name:12} {key:18} {found:.1e}", flush=True)
        if not found <= most:
            failed = True
            print(f"  more than {most:.0e}: {json.dumps(case)}\n  ours {ours}\n  theirs {theirs}")
    return failed


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
