"""The same figures by scipy's routes, timed: the pair to benches/complete.rs, one process each.

    python3 engine/stats/benches/scipy_peer.py          (numpy and scipy needed)

Percentile limits by scipy.stats.nct.ppf; exceedance limits by brentq on scipy.stats.nct.cdf; Land's limits by quad
inside brentq, as one has to write it with scipy; the unbiased mean by scipy.special.hyp0f1. The best of several repeats, in microseconds.
"""

import math
import timeit

from scipy import integrate, optimize, special, stats

Z95 = stats.norm.ppf(0.95)
MEAN, SD = 0.3, 0.9


def percentile_pair(n):
    ncp = Z95 * math.sqrt(n)
    low, high = stats.nct.ppf([0.05, 0.95], n - 1, ncp) / math.sqrt(n)
    return math.exp(MEAN + low * SD), math.exp(MEAN + high * SD)


def exceedance_pair(n):
    t = (math.log(5.0) - MEAN) / SD * math.sqrt(n)

    def at(p):
        return optimize.brentq(lambda d: stats.nct.cdf(t, n - 1, d) - p, t - 40 - t, t + 40, xtol=1e-12)

    return stats.norm.sf(at(0.05) / math.sqrt(n)), stats.norm.sf(at(0.95) / math.sqrt(n))


def land_share(y, n):
    v = n - 1
    a = math.sqrt(v * n) * SD / 2 * math.cosh(y)
    peak = -math.asinh(2 * a / v) / 2
    top = -v * math.log(math.cosh(peak)) - a * math.tanh(peak)

    def density(x):
        if abs(x) > 300:
            return 0.0
        return math.exp(-v * math.log(math.cosh(x)) - a * math.tanh(x) - top)

    reach = 40 / v + 8
    low = integrate.quad(density, min(y, peak) - reach, y, points=[peak] if peak < y else None, epsabs=0, epsrel=1e-10, limit=200)[0]
    high = integrate.quad(density, y, max(y, peak) + reach, points=[peak] if peak > y else None, epsabs=0, epsrel=1e-10, limit=200)[0]
    return low / (low + high)


def odds(share):
    share = min(max(share, 1e-300), 1 - 1e-16)
    return math.log(share / (1 - share))


def land_pair(n):
    v = n - 1
    step = math.sqrt(v / n) * SD

    def at(p):
        y = optimize.brentq(lambda y: odds(land_share(y, n)) - math.log(p / (1 - p)), -6, 3, xtol=1e-12)
        return math.exp(MEAN - step * math.sinh(y))

    return at(0.95), at(0.05)


def geometric_mean_pair(n):
    half = stats.t.ppf(0.95, n - 1) * SD / math.sqrt(n)
    return math.exp(MEAN - half), math.exp(MEAN + half)


def unbiased_mean(n):
    v = n - 1
    return math.exp(MEAN) * special.hyp0f1(v / 2, v * SD * SD * (1 - 1 / n) / 4)


if __name__ == "__main__":
    for task, repeats in ((percentile_pair, 50), (land_pair, 1), (exceedance_pair, 5), (geometric_mean_pair, 100), (unbiased_mean, 500)):
        for n in (3, 6, 10, 30, 1000):
            best = min(timeit.repeat(lambda: task(n), number=repeats, repeat=5)) / repeats * 1e6
            print(f"{task.__name__:<22} n = {n:<5} {best:12.1f} us   {task(n)}", flush=True)
