# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What judging costs from Python, beside what people would do instead on the same arrays: rolling
slopes, their standard errors and a Hampel filter with pandas; a rolling scipy.stats.linregress; and
for a finished series a general library for change points.

    PYTHONPATH=build/python/python python bench/peers/arrays.py

Everything is run in interleaved rounds in one process; the table gives medians and ratios. What is
not installed is left out and said. Peers do less: they say nothing about phases, departures or
uncertainty of a mean.
"""

import threading

import numpy as np
import stilling
from rounds import interleaved, machine, told

WINDOW = 120


def columns_of(scenario, seed):
    log = stilling.simulate(scenario, seed=seed)[0].decode().splitlines()
    rows = [line.split(",") for line in log if line and not line.startswith("#")]
    return {n: np.array([float(r[i]) if r[i] else np.nan for r in rows[1:]])
            for i, n in enumerate(rows[0])}


def rolling_pandas(columns):
    import pandas as pd

    frame = pd.DataFrame(columns)
    t = frame.pop("time_s")
    for name in ("stack_temp_degF", "o2_pct", "co_ppm"):
        x = frame[name]
        roll, both = x.rolling(WINDOW), t.rolling(WINDOW)
        slope = roll.cov(t) / both.var()
        rest = roll.var() - slope ** 2 * both.var()
        _ = (rest.clip(lower=0) / both.var() / (WINDOW - 2)) ** 0.5
        middle = x.rolling(9, center=True).median()
        spread = (x - middle).abs().rolling(9, center=True).median()
        _ = (x - middle).abs() > 4 * 1.4826 * spread


def rolling_scipy(columns, rows):
    from scipy.stats import linregress

    t = columns["time_s"]
    for name in ("stack_temp_degF", "o2_pct", "co_ppm"):
        x = columns[name]
        for i in range(WINDOW, WINDOW + rows):
            linregress(t[i - WINDOW:i], x[i - WINDOW:i])


def steps(n, seed):
    """Levels that hold for 300 to 900 values, noise 1; and where they change."""
    dice = np.random.default_rng(seed)
    cuts, at = [], 0
    while at < n:
        at += int(dice.integers(300, 900))
        cuts.append(min(at, n))
    x = np.concatenate([np.full(b - a, dice.normal(0, 10))
                        for a, b in zip([0, *cuts[:-1]], cuts)])
    return x + dice.normal(0, 1, n), cuts[:-1]


def found_share(cuts, truth, within=30):
    hit = sum(any(abs(c - k) <= within for c in cuts) for k in truth)
    good = sum(any(abs(c - k) <= within for k in truth) for c in cuts)
    return hit / len(truth), good / len(cuts) if cuts else 1.0


def our_cuts(x):
    parts = stilling.segment(np.arange(len(x)), x, rate_limit=1 / 60)
    return [p.from_s for p in parts[1:]]


def library_cuts(size):
    """Name of a general library's search for cuts, and the search; nothing where there is none."""
    try:
        import ruptures
    except ImportError:
        print("ruptures is not installed")
        return None
    penalty = 3 * np.log(size)
    name = f"ruptures {ruptures.__version__}, "
    if size <= 10_000:  # takes time and memory by the square of the size
        return name + "KernelCPD linear (PELT)", lambda x: ruptures.KernelCPD(
            kernel="linear", min_size=60).fit(x).predict(pen=penalty)[:-1]
    return name + "Binseg l2", lambda x: ruptures.Binseg(
        "l2", min_size=60, jump=5).fit(x).predict(pen=penalty)[:-1]


def finished_series(size, seeds):
    """Time on the first of them, changes found and cuts that are right over all."""
    contenders = {"stilling.segment": our_cuts}
    other = library_cuts(size)
    if other is not None:
        contenders[other[0]] = other[1]
    series = [steps(size, seed) for seed in seeds]
    changes = sum(len(truth) for _, truth in series)
    told(f"a finished series of {size} values", interleaved(
        {name: lambda cut=cut: cut(series[0][0]) for name, cut in contenders.items()}),
        "stilling.segment")
    print(f"  {changes} changes of level in {len(series)} such series:")
    for name, cut in contenders.items():
        shares = np.array([found_share(cut(x), truth) for x, truth in series])
        hit, good = shares.mean(axis=0)
        print(f"  {name:<52}{100 * hit:>8.1f} % found, {100 * good:.1f} % of its cuts right, "
              f"F1 {2 * hit * good / (hit + good):.3f}")


def main():
    print(f"{machine()}; numpy {np.__version__}")
    columns = columns_of("long_burn", 3)
    n = len(columns["time_s"])
    contenders = {"stilling.settle, everything it says": lambda: stilling.settle(**columns)}
    try:
        import pandas
        contenders[f"pandas {pandas.__version__}: slope, error, Hampel, 3 columns"] = \
            lambda: rolling_pandas(columns)
    except ImportError:
        print("pandas is not installed")
    told(f"{n} rows of {len(columns) - 1} columns", interleaved(contenders),
         "stilling.settle, everything it says")
    try:
        import scipy
        rows = 300
        part = {k: v[:WINDOW + rows] for k, v in columns.items()}
        told(f"{rows} windows", interleaved(
            {"stilling.settle of as many rows": lambda: stilling.settle(**part),
             f"scipy {scipy.__version__} linregress, rolling, 3 columns":
                 lambda: rolling_scipy(columns, rows)}), "stilling.settle of as many rows")
    except ImportError:
        print("scipy is not installed")

    logs = [stilling.simulate("cold_start", seed=seed)[0] for seed in range(60)]

    def judge(part):
        for log in part:
            judged = stilling._core.Judge([])
            judged.push(log)
            judged.finish()

    def two():
        threads = [threading.Thread(target=judge, args=(logs[i::2],)) for i in range(2)]
        for t in threads:
            t.start()
        for t in threads:
            t.join()

    both = interleaved({"two threads": two, "one thread": lambda: judge(logs)})
    told("60 logs", both, "two threads")

    finished_series(10_000, range(7, 17))
    finished_series(100_000, range(7, 10))


if __name__ == "__main__":
    main()
