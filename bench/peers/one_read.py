# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""One contender in a process of its own: reads what it is told to and prints the seconds that took
by the clock and of processors, once its library is loaded.

    one_read.py CONTENDER FILE...
"""

import os
import sys
import time


def pandas_read(paths):
    import pandas
    return pandas.__version__, lambda: pandas.read_csv(paths[0], comment="#")


def polars_read(paths):
    import polars  # POLARS_MAX_THREADS is set before it is loaded
    return polars.__version__, lambda: polars.read_csv(paths[0], comment_prefix="#")


def duckdb_scan(paths):
    import duckdb
    link = duckdb.connect()
    link.execute("SET threads = 1")
    names = [f'"{name}"' for name in open(paths[0], encoding="utf-8").readline().strip().split(",")]
    sums = ", ".join(f"sum({name})" for name in names)
    return duckdb.__version__, lambda: link.execute(
        f"SELECT {sums} FROM read_csv('{paths[0]}', header = true, comment = '#')").fetchall()


def pyarrow_read(paths):
    from pyarrow import __version__, csv
    options = csv.ReadOptions(use_threads=False)
    return __version__, lambda: csv.read_csv(paths[0], read_options=options)


def pandas_slopes(paths):
    """Every file read, and rolling slopes over 120 rows of three of its columns: nothing is said
    about noise, departures, phases or uncertainty."""
    import pandas

    def all_of_them():
        for path in paths:
            frame = pandas.read_csv(path, comment="#")
            t = frame["time_s"]
            for name in ("stack_temp_degF", "o2_pct", "co_ppm"):
                _ = frame[name].rolling(120).cov(t) / t.rolling(120).var()
    return pandas.__version__, all_of_them


CONTENDERS = {"pandas": pandas_read, "polars": polars_read, "duckdb": duckdb_scan,
              "pyarrow": pyarrow_read, "pandas_slopes": pandas_slopes}


def main():
    os.environ["POLARS_MAX_THREADS"] = "1"
    try:
        version, work = CONTENDERS[sys.argv[1]](sys.argv[2:])
    except ImportError:
        print("not installed")
        return
    began, spent = time.perf_counter(), time.process_time()
    work()
    print(version, time.perf_counter() - began, time.process_time() - spent)


if __name__ == "__main__":
    main()
