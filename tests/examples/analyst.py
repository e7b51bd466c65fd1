# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""An analyst's morning: two hundred logs, what settled in them, which instrument drifts, what the
adjustments were worth, and a picture. Needs pandas and matplotlib: pip install '.[analysis]'.

    python tests/examples/analyst.py [PICTURE.png]

The logs are invented; with your own, begin at `results`.
"""

import pathlib
import sys
import tempfile

import numpy as np

import stilling

try:
    import matplotlib
    import pandas as pd
except ImportError as missing:
    print(f"{missing.name} is not installed: pip install '.[analysis]'")
    sys.exit(77)

matplotlib.use("Agg")

# 1. Two hundred visits by five technicians, each with an instrument of their own. One of the
#    instruments reads low in O2, by more from week to week.
folder = pathlib.Path(tempfile.mkdtemp())
paths = []
for visit in range(200):
    log, _ = stilling.simulate("whole_visit", seed=visit)
    if visit % 5 == 3:
        lines = log.decode().splitlines(keepends=True)
        at = lines[[i for i, x in enumerate(lines) if x.startswith("time_s")][0]] \
            .strip().split(",").index("o2_pct")
        for i, line in enumerate(lines):
            cells = line.rstrip("\n").split(",")
            if not line.startswith(("#", "time_s")) and cells[at]:
                cells[at] = f"{float(cells[at]) - 0.004 * visit:.1f}"
                lines[i] = ",".join(cells) + "\n"
        log = "".join(lines).encode()
    path = folder / f"visit_{visit:03}.csv"
    path.write_bytes(log)
    paths.append(path)

# 2. All of them at once, a thread per core. A log that is not understood would be a ValueError in
#    its place.
results = stilling.settle_files(paths)
readings = pd.concat([r.to_pandas().assign(visit=i, setting=range(len(r.plateaus)))
                      for i, r in enumerate(results.values()) if isinstance(r, stilling.Result)])
print(f"{len(readings)} settled readings in {readings.visit.nunique()} of {len(results)} visits")

# 3. Which instrument drifts? In fresh air every one of them should read 20.9 %.
tired = [i for i, r in enumerate(results.values())
         if any(f.finding == "oxygen_cell_tired" for f in r.findings)]
by_instrument = pd.Series(tired).mod(5).value_counts()
print(f"O2 off in fresh air: instrument {by_instrument.index[0]}, "
      f"{by_instrument.iloc[0]} of its 40 visits, first in visit {min(tired)}; "
      f"{len(tired) - by_instrument.iloc[0]} times in all others")

# 4. What the last setting was worth against the first, where the instrument can be trusted. Each
#    difference has the uncertainty of both.
sound = readings[readings.visit.mod(5) != 3]
first = sound.groupby("visit").first()
last = sound.groupby("visit").last()
gain = last.efficiency_gross_pct - first.efficiency_gross_pct
scatter = gain.std(ddof=1) / np.sqrt(len(gain))
print(f"efficiency, last setting against first: {gain.mean():+.2f} ± {2 * scatter:.2f} points "
      f"over {len(gain)} visits")

# 5. A picture of one of them, over its columns.
log, _ = stilling.simulate("whole_visit", seed=3)
rows = [line for line in log.decode().splitlines() if not line.startswith("#")]
table = pd.DataFrame([line.split(",") for line in rows[1:]], columns=rows[0].split(","))
table = table.apply(pd.to_numeric)
figure = stilling.plot(stilling.settle(table), ["stack_temp_degF", "o2_pct", "co_ppm"])
picture = sys.argv[1] if len(sys.argv) > 1 else str(folder / "visit.png")
figure.savefig(picture, dpi=120)
print(f"picture: {pathlib.Path(picture).name}")
