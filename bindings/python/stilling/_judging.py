# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Logs, frames and arrays in, settled readings out."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from typing import Any, Dict, Iterable, List, Optional, Sequence, Tuple, Union

import numpy as np

from . import _core
from ._events import Result
from ._needs import needed

_COLUMNS = {name: (channel, unit) for name, channel, unit in _core.columns()}
_TIMES = {"time_ns": 1, "time_us": 1_000, "time_ms": 1_000_000, "time_s": 1_000_000_000,
          "time_min": 60_000_000_000, "time_h": 3_600_000_000_000}


def _words(options: Dict[str, Any]) -> List[str]:
    """Keyword options as the command's: ``require=["o2"]`` is ``--require o2``."""
    words: List[str] = []
    for name, value in options.items():
        flag = "--" + name.replace("_", "-")
        if value is None or value is False and name != "combustion_check":
            continue
        if name == "combustion_check":
            words += [flag, "on" if value else "off"]
        elif value is True:
            words.append(flag)
        elif isinstance(value, dict):
            for k, v in value.items():
                words += [flag, f"{k}={v}"]
        elif isinstance(value, (str, os.PathLike)):
            words += [flag, os.fspath(value)]
        elif isinstance(value, (list, tuple)):
            words += [flag, ",".join(str(v) for v in value)]
        else:
            words += [flag, str(value)]
    return words


def _nanoseconds(name: str, column: Any) -> np.ndarray:
    """Stamps as whole nanoseconds."""
    a = np.asarray(column)
    if a.dtype.kind == "O" and len(a) and hasattr(a[0], "timestamp"):
        # Stamps with a zone, one object each.
        return np.array([_of_datetime(x) for x in a], dtype=np.int64)
    if a.dtype.kind == "M":
        if np.isnat(a).any():
            raise ValueError(f"{name}: row {int(np.argmax(np.isnat(a)))} has no time")
        return a.astype("datetime64[ns]").astype(np.int64)
    if name not in _TIMES:
        raise ValueError(f"{name}: {a.dtype} is no time; give datetime64, or numbers named time_s, "
                         "time_ms, time_us, time_ns, time_min or time_h")
    if a.dtype.kind in "iu":
        return a.astype(np.int64) * _TIMES[name]
    if a.dtype.kind != "f":
        raise ValueError(f"{name}: {a.dtype} is no number")
    if a.dtype.itemsize < 8:
        _refuse_collapsed(name, a)
    values = a.astype(np.float64)
    if not np.isfinite(values).all():
        row = int(np.argmax(~np.isfinite(values)))
        raise ValueError(f"{name}: row {row} has no time; leave such rows out")
    if len(values) and np.abs(values).max() * _TIMES[name] >= 2.0**62:
        raise ValueError(f"{name}: more than 146 years from its origin; is the unit right?")
    whole = np.rint(values * _TIMES[name])
    return whole.astype(np.int64)


def _refuse_collapsed(name: str, a: np.ndarray) -> None:
    """Half and single precision cannot hold seconds of an epoch: stamps fall together."""
    if len(a) < 2:
        return
    spacing = float(np.spacing(np.abs(a).max()))
    steps = np.diff(a.astype(np.float64))
    if (steps == 0).any() or spacing > 0.1 * float(np.median(np.abs(steps))):
        raise ValueError(f"{name}: {a.dtype} holds times this large only to {spacing:g}, so that "
                         "stamps fall together; convert to float64 where they are still exact")


def _of_datetime(x: Any) -> int:
    if getattr(x, "tzinfo", None) is None:
        raise ValueError("times without a zone among times with one")
    ns = getattr(x, "value", None)  # pandas
    if ns is not None:
        return int(ns)
    whole = x.replace(microsecond=0)
    return round(float(whole.timestamp())) * 1_000_000_000 + int(x.microsecond) * 1_000


def _numbers(name: str, column: Any) -> np.ndarray:
    """Values as doubles, NaN where one is missing."""
    if isinstance(column, np.ma.MaskedArray):
        return np.ma.filled(column.astype(np.float64), np.nan)
    a = np.asarray(column)
    if a.dtype.kind == "O":
        try:
            return np.array([np.nan if x is None else float(x) for x in a], dtype=np.float64)
        except (TypeError, ValueError) as e:
            raise ValueError(f"{name}: {e}") from None
    if a.dtype.kind not in "fiub":
        raise ValueError(f"{name}: {a.dtype} is no number")
    if a.dtype.kind == "f" and a.dtype.itemsize < 8:
        # As the shortest decimal that gives the same float32: 471.2, not 471.2000122070312.
        return np.array([float(str(x)) for x in a], dtype=np.float64)
    return a.astype(np.float64)


def _columns_of(frame: Any) -> Dict[str, Any]:
    """Columns of whatever has some: a mapping, a pandas or polars frame, anything that exports
    Arrow."""
    if hasattr(frame, "__arrow_c_stream__") and not hasattr(frame, "columns"):
        frame = needed("pyarrow", "a frame that is known by Arrow alone").table(frame)
    if hasattr(frame, "column_names"):  # pyarrow
        return {n: _of_arrow(frame.column(n)) for n in frame.column_names}
    if hasattr(frame, "to_numpy") and hasattr(frame, "columns"):  # pandas, polars
        return {str(n): _of_series(frame[n]) for n in frame.columns}
    return dict(frame)


def _of_arrow(column: Any) -> Any:
    pyarrow = needed("pyarrow", "an Arrow column")
    if pyarrow.types.is_timestamp(column.type):
        return np.asarray(column.cast(pyarrow.timestamp("ns")).cast(pyarrow.int64())) \
            .astype("datetime64[ns]")
    if column.null_count and not pyarrow.types.is_floating(column.type):
        column = column.cast(pyarrow.float64())
    return np.asarray(column)


def _of_series(column: Any) -> Any:
    if type(column).__module__.partition(".")[0] == "pandas":
        if getattr(column.dtype, "tz", None) is not None:
            return column.dt.tz_convert("UTC").dt.tz_localize(None).to_numpy()
        if column.hasnans and column.dtype.kind != "M":
            return column.to_numpy(dtype=np.float64, na_value=np.nan)
    return column.to_numpy()


def _laid_out(columns: Dict[str, Any]) -> Tuple[np.ndarray, List[str], np.ndarray]:
    """Times in ns, names, and a row per time."""
    stamps = [n for n in columns if n == "time" or n in _TIMES]
    if len(stamps) != 1:
        raise ValueError("one column of times is wanted: time (datetime64), time_s, time_ms, "
                         f"time_us, time_ns, time_min or time_h; there are {len(stamps)}")
    names = [n for n in columns if n in _COLUMNS]
    if not names:
        known = ", ".join(sorted({f"{c}_{u}" for c, u in _COLUMNS.values()})[:6])
        raise ValueError(f"no column is named <channel>_<unit>, such as {known}")
    unknown = [n for n in columns if n not in _COLUMNS and n not in stamps]
    if unknown:
        raise ValueError(f"{unknown[0]!r} is no <channel>_<unit> and no time; rename it, or leave "
                         "it out")
    times = _nanoseconds(stamps[0], columns[stamps[0]])
    values = np.empty((len(times), len(names)), dtype=np.float64)
    for i, n in enumerate(names):
        column = _numbers(n, columns[n])
        if column.shape != times.shape:
            raise ValueError(f"{n}: {column.shape} values for {times.shape} times")
        values[:, i] = column
    return times, names, values


class Session:
    """A test while it happens: bytes of a log, or rows of numbers, as they come.

    >>> live = Session(criterion="field")
    >>> for chunk in (b"time_s,stack_temp_degF,o2_pct,co_ppm\\n", b"0,471,5.1,20\\n"):
    ...     for event in live.push(chunk):
    ...         print(event)

    Options are those of ``stilling settle``, with underscores: ``criterion``, ``require``,
    ``fuel``, ``limits``, ``time_zone``, ``missing``, ``column={"Flue T": "stack_temp:degF"}`` …
    """

    def __init__(self, **options: Any) -> None:
        self._judge = _core.Judge(_words(options))
        self._named: Optional[List[str]] = None
        self.result = Result()

    def push(self, what: Any = None, **columns: Any) -> List[Any]:
        """Bytes of the log, or columns as ``settle`` takes them; returns what was said at once."""
        if isinstance(what, str):
            what = what.encode()
        if what is not None and isinstance(what, (bytes, bytearray, memoryview)):
            self._judge.push(what)
        else:
            given = dict(columns) if what is None else _columns_of(what)
            times, names, values = _laid_out({n: np.atleast_1d(np.asarray(c))
                                              for n, c in given.items()})
            if self._named is None:
                self._judge.columns(names)
                self._named = names
            elif names != self._named:
                raise ValueError(f"the columns were {', '.join(self._named)}")
            self._judge.rows(times, values)
        return self._said()

    def finish(self) -> List[Any]:
        """The log ended. A session is used once."""
        self._judge.finish()
        return self._said()

    def _said(self) -> List[Any]:
        if self._judge.refusal:
            raise ValueError(self._judge.refusal)
        from ._events import events_of

        lines = self._judge.take()
        self.result.add(lines)
        return list(events_of(lines))


def _understood(jsonl: str) -> Result:
    """A log of which no row could be read is an error; one without rows is not."""
    result = Result.of(jsonl)
    end = result.summary
    if end is not None and end.rows > 0 and end.frames == 0:
        faults = ", ".join(f"{k} {n} x" for k, n in end.rejected.items() if n)
        raise ValueError(f"none of {end.rows} lines could be read ({faults}); `stilling check` "
                         "says how the log is understood and what would help")
    return result


def settle(what: Any = None, /, *, options: Sequence[str] = (), **given: Any) -> Result:
    """Judges a test.

    ``what`` is a path, the bytes or text of a log, a mapping of columns, a pandas or polars frame,
    or anything that exports Arrow; or columns are given by name:

    >>> settle(time_s=t, stack_temp_degF=stack, o2_pct=o2, co_ppm=co)    # doctest: +SKIP

    Columns are named ``<channel>_<unit>``; times are ``time`` (datetime64, with or without zone) or
    numbers named ``time_s``, ``time_ms``, … NaN, None and masked are missing. All other keywords
    are options of ``stilling settle``, with underscores; ``options`` takes them as the command
    does.

    Raises ValueError where the input or an option is not understood, saying what would help.
    """
    columns = {k: v for k, v in given.items()
               if k in _COLUMNS or k in _TIMES or k == "time"}
    words = [*options, *_words({k: v for k, v in given.items() if k not in columns})]
    if columns and what is not None:
        raise ValueError("either a log or columns by name")
    if isinstance(what, (bytes, bytearray, memoryview)) or isinstance(what, str) and "\n" in what:
        judge = _core.Judge(words)
        judge.push(what.encode() if isinstance(what, str) else what)
        judge.finish()
        if judge.refusal:
            raise ValueError(judge.refusal)
        return _understood(judge.take())
    if isinstance(what, (str, os.PathLike)):
        return _understood(_core.settle_file(os.fspath(what), words))
    columns = columns or (_columns_of(what) if what is not None else {})
    times, names, values = _laid_out(columns)
    judge = _core.Judge(words)
    judge.columns(names)
    judge.rows(times, values)
    judge.finish()
    if judge.refusal:
        raise ValueError(judge.refusal)
    result = Result.of(judge.take())
    result.course = (times, names, values)
    return result


def settle_files(paths: Iterable[Union[str, "os.PathLike[str]"]], *, jobs: Optional[int] = None,
                 progress: bool = False, **options: Any) -> Dict[str, Union[Result, ValueError]]:
    """Many logs on this machine, a thread each; the interpreter is free while one is judged. A log
    that is not understood is in the answer as its ValueError and stops no other. ``progress`` shows
    a bar where tqdm is installed."""
    names = [os.fspath(p) for p in paths]
    words = _words(options)

    def one(path: str) -> Union[Result, ValueError]:
        try:
            return _understood(_core.settle_file(path, words))
        except ValueError as e:
            return e

    with ThreadPoolExecutor(jobs or os.cpu_count() or 1) as pool:
        done: Iterable[Any] = pool.map(one, names)
        if progress:
            try:
                from tqdm import tqdm  # type: ignore[import-untyped,unused-ignore]

                done = tqdm(done, total=len(names), unit="log")
            except ImportError:
                pass
        return dict(zip(names, done))
