"""Writes studentized_range.csv: quantiles of the range of n standard normal values.

scipy.stats.studentized_range with infinite degrees of freedom, for n = 2 to 12: at erf(sqrt(2)), the
probability within two standard uncertainties, and at 0.95 as statistics handbooks print it.
Use: python tests/published/studentized_range.py (needs scipy)
"""
import math
import pathlib

import scipy
from scipy.stats import studentized_range

covered = math.erf(math.sqrt(2))
lines = [f"# scipy {scipy.__version__}, studentized_range.ppf(p, n, inf)", "n,covered,p95"]
for n in range(2, 13):
    at = [studentized_range.ppf(p, n, math.inf) for p in (covered, 0.95)]
    lines.append(f"{n},{at[0]:.9f},{at[1]:.9f}")
file = pathlib.Path(__file__).with_name("studentized_range.csv")
file.write_text("\n".join(lines) + "\n")
