# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Fleets: from Arrow batches to Arrow batches, for engines that hand them to a function.

`judge` is a generator over record batches, which is what Spark's ``mapInArrow`` asks for; Dask and
Ray hand over one batch or table at a time, see `judge_table`. Each row of the input is one whole
log; nothing is kept between rows, so that a lost worker's rows can be judged again elsewhere.

    logs.mapInArrow(stilling.fleet.judge, stilling.fleet.SPARK_SCHEMA)
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Dict, Iterable, Iterator, List

from ._judging import settle
from ._needs import needed

if TYPE_CHECKING:
    import pyarrow as pa  # type: ignore[import-untyped,unused-ignore]
else:
    pa = needed("pyarrow", "stilling.fleet")

#: A row in: a name and the log's bytes.
INPUT = pa.schema([("name", pa.string()), ("log", pa.binary())])

#: A row out per settled channel of each plateau; one with `fault` for a log that is not understood,
#: one with `outcome` alone where nothing settled.
OUTPUT = pa.schema([
    ("name", pa.string()), ("outcome", pa.string()), ("fault", pa.string()),
    ("plateau", pa.int32()), ("declared_s", pa.float64()), ("from_s", pa.float64()),
    ("to_s", pa.float64()), ("quantity", pa.string()), ("value", pa.float64()),
    ("u", pa.float64()), ("flags", pa.string())])

SPARK_SCHEMA = ("name string, outcome string, fault string, plateau int, declared_s double, "
                "from_s double, to_s double, quantity string, value double, u double, "
                "flags string")


def _rows_of(name: str, log: bytes, options: Dict[str, Any]) -> Iterator[Dict[str, Any]]:
    try:
        result = settle(log, **options)
    except ValueError as e:
        yield {"name": name, "fault": str(e)}
        return
    if not result.plateaus:
        yield {"name": name, "outcome": result.outcome}
    for i, p in enumerate(result.plateaus):
        common = {"name": name, "outcome": result.outcome, "plateau": i,
                  "declared_s": p.declared_s, "from_s": p.from_s, "to_s": p.to_s,
                  "flags": " ".join(p.flags)}
        values: Dict[str, Any] = {**p.readings, **p.derived}
        for key, reading in values.items():
            yield {**common, "quantity": key, "value": reading.value, "u": reading.u}


def judge(batches: Iterable[pa.RecordBatch], **options: Any) -> Iterator[pa.RecordBatch]:
    """Batches with the columns of `INPUT` in, batches of `OUTPUT` out. ``options`` as of
    `stilling.settle`. A log that is not understood is a row with its `fault`, and stops nothing."""
    for batch in batches:
        names = batch.column(batch.schema.get_field_index("name"))
        logs = batch.column(batch.schema.get_field_index("log"))
        rows: List[Dict[str, Any]] = []
        for name, log in zip(names, logs):
            rows += _rows_of(name.as_py(), log.as_buffer().to_pybytes(), options)
        yield pa.RecordBatch.from_pylist(rows, schema=OUTPUT)


def judge_table(table: pa.Table, **options: Any) -> pa.Table:
    """The same for a table: Dask's ``map_partitions``, Ray's ``map_batches`` with its batch format
    "pyarrow"."""
    return pa.Table.from_batches(list(judge(table.to_batches(), **options)), schema=OUTPUT)
