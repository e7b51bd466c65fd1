# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A fleet of logs under Spark, in local-cluster mode with two worker processes: the same readings
as on one machine, a log that is none reported, a worker that is killed made good. Needs pyspark and
a Java runtime.

    python tests/examples/fleet_spark.py [SESSIONS]
"""

import os
import pathlib
import signal
import sys
import tempfile
import threading
import time

import pyarrow as pa
import pyarrow.parquet as pq
from pyspark.sql import SparkSession

import stilling
from stilling import fleet

os.environ.setdefault("PYSPARK_PYTHON", sys.executable)
os.environ.setdefault("SPARK_LOCAL_IP", "127.0.0.1")
sessions = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
folder = pathlib.Path(tempfile.mkdtemp())

# One row per log, in Parquet: sixteen row groups, so that there are tasks to share.
logs = [(f"{seed:05}", stilling.simulate("cold_start", seed=seed)[0]) for seed in range(sessions)]
logs[7] = ("00007", b"no log at all\n")
table = pa.table({"name": [n for n, _ in logs], "log": [x for _, x in logs]}, schema=fleet.INPUT)
for i in range(16):
    part = table.slice(i * sessions // 16, (i + 1) * sessions // 16 - i * sessions // 16)
    pq.write_table(part, folder / f"logs-{i:02}.parquet")


def told(what, began):
    print(f"{what:<28}{sessions / (time.monotonic() - began):8.0f} sessions/s", flush=True)


began = time.monotonic()
alone = fleet.judge_table(table)
told("one process, one thread", began)

for name, log in logs:
    (folder / name).write_bytes(log)
began = time.monotonic()
stilling.settle_files([folder / name for name, _ in logs], jobs=2)
told("one process, two threads", began)

spark = (SparkSession.builder.master("local-cluster[2,1,1024]").appName("settled readings")
         .config("spark.ui.enabled", "false").config("spark.executor.memory", "1g")
         .config("spark.sql.execution.arrow.maxRecordsPerBatch", "64").getOrCreate())
spark.sparkContext.setLogLevel("ERROR")
frame = spark.read.parquet(str(folder / "logs-*.parquet")).repartition(16)
frame.limit(2).mapInArrow(fleet.judge, fleet.SPARK_SCHEMA).collect()  # starts the workers


def rows(of):
    return sorted((tuple(r.values()) for r in of), key=str)


def judged():
    return frame.mapInArrow(fleet.judge, fleet.SPARK_SCHEMA).toArrow().to_pylist()


began = time.monotonic()
many = judged()
told("Spark, two workers", began)
same = rows(many) == rows(alone.to_pylist())
print(f"the same rows: {same}; logs that are none: "
      f"{[(r['name'], r['fault'][:40]) for r in many if r['fault']]}")


def kill_a_worker():
    time.sleep(0.5)
    for entry in pathlib.Path("/proc").glob("[0-9]*"):
        try:
            if b"CoarseGrainedExecutorBackend" in (entry / "cmdline").read_bytes():
                os.kill(int(entry.name), signal.SIGKILL)
                print(f"a worker was killed (process {entry.name})", flush=True)
                return
        except OSError:
            continue


threading.Thread(target=kill_a_worker).start()
survived = rows(judged()) == rows(alone.to_pylist())
print(f"the same rows after that: {survived}")
spark.stop()
sys.exit(0 if same and survived else 1)
