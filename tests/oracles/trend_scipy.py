"""Writes the cases of trend.csv: Kendall's tau as scipy computes it (scipy.stats.kendalltau, exact where no values are equal), and
with equal values the Mann-Kendall test of pymannkendall with Sen's slope.

The project's own code takes no part. Run: python3 tests/oracles/trend_scipy.py > tests/oracles/trend.csv
"""
import random
import scipy
import pymannkendall
from scipy.stats import kendalltau

random.seed(20261125)
print("# Two-sided chance of a trend, by scipy %s, scipy.stats.kendalltau(method='exact'); values in the order in which they were read." % scipy.__version__)
print("# The first rows are read in a table: Kendall, Rank correlation methods (1975), appendix table 1, from memory: chance of S or more, doubled.")
print("# slope: Sen's, a step; empty where the source gives none.")
print("source,values,p,within,slope")
table = [
    ("Kendall 1975 table 1 n=6 S=15 (from memory)", [1, 2, 3, 4, 5, 6], 2 * 0.0014, 0.0001),
    ("Kendall 1975 table 1 n=6 S=13 (from memory)", [2, 1, 3, 4, 5, 6], 2 * 0.0083, 0.0001),
    ("Kendall 1975 table 1 n=6 S=11 (from memory)", [2, 1, 4, 3, 5, 6], 2 * 0.028, 0.001),
    ("Kendall 1975 table 1 n=7 S=21 (from memory)", [7, 6, 5, 4, 3, 2, 1], 2 * 0.0002, 0.0001),
    ("Kendall 1975 table 1 n=8 S=16 (from memory)", None, 2 * 0.031, 0.001),
    ("Kendall 1975 table 1 n=10 S=23 (from memory)", None, 2 * 0.023, 0.001),
]


def with_s(n, s):
    while True:
        values = list(range(1, n + 1))
        random.shuffle(values)
        got = sum((b > a) - (b < a) for i, a in enumerate(values) for b in values[i + 1:])
        if got == s:
            return values


for source, values, p, within in table:
    if values is None:
        n, s = (8, 16) if "n=8" in source else (10, 23)
        values = with_s(n, s)
    print("%s,%s,%.4f,%g," % (source, " ".join(map(str, values)), p, within))
for n in (6, 7, 8, 9, 10, 12, 15, 20, 28, 33):
    for drift in (0, 0.4, 1.5):
        values = [round(40 + drift * i + random.gauss(0, 2), 6) for i in range(n)]
        p = kendalltau(range(n), values, method="exact").pvalue
        print("scipy.stats.kendalltau,%s,%.12g,1e-9," % (" ".join(map(str, values)), p))
for n in (6, 7, 8, 9, 10, 11, 12, 14, 16, 20, 24, 40):
    values = [round(45 + 0.5 * i + random.gauss(0, 3)) for i in range(n)]
    values[-1] = values[-3]
    found = pymannkendall.original_test(values)
    print("pymannkendall.original_test,%s,%.12g,1e-9,%.12g" % (" ".join(map(str, values)), found.p, found.slope))
