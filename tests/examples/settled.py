# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
import stilling

test = stilling.settle("test.csv", criterion="field", fuel="no2_oil")  # or bytes, columns, a frame
for plateau in test.plateaus:
    print(plateau, plateau.derived["efficiency_gross_pct"])
for finding in test.findings:
    print(finding.severity, finding.text)
