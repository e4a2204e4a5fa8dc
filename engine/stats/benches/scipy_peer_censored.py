#!/usr/bin/env python3
"""What a careful analyst would write with scipy: censored maximum likelihood with profile limits, and a posterior by double integration.

    pip install numpy scipy;  python3 scipy_peer_censored.py

The samples are those of censored.rs; times in milliseconds, the best of several runs.
"""

import math
import time

import numpy as np
from scipy import integrate, optimize, special

INF = math.inf
MANGANESE = [(0, 5), (12.1, 12.1), (16.9, 16.9), (21.6, 21.6), (0, 2), (0, 5), (7.7, 7.7), (53.6, 53.6), (9.5, 9.5), (45.9, 45.9), (0, 5),
             (5.3, 5.3), (12.6, 12.6), (106.3, 106.3), (34.5, 34.5), (6.3, 6.3), (11.9, 11.9), (10, 10), (0, 2), (77.2, 77.2), (17.9, 17.9),
             (22.7, 22.7), (3.3, 3.3), (8.4, 8.4), (0, 2)]
MARKS = [(0, 1)] * 3 + [(1, 2)] * 2 + [(2, 5)] * 3 + [(5, 10)] * 4 + [(10, 20)] * 2 + [(20, 50)] * 2 + [(50, INF), (4, 4), (7, 7), (12, 12)]
Z95 = special.ndtri(0.95)


def likelihood(sample):
    exact = np.log([low for low, high in sample if low == high])
    pairs = [(low, high) for low, high in sample if low != high]
    with np.errstate(divide="ignore"):
        low, high = np.log([p[0] for p in pairs]), np.log([p[1] for p in pairs])

    def value(mu, tau):
        sigma = math.exp(tau)
        z = (exact - mu) / sigma
        a, b = (low - mu) / sigma, (high - mu) / sigma
        near, far = np.where(a + b > 0, -a, b), np.where(a + b > 0, -b, a)
        lead = special.log_ndtr(near)
        censored = lead + np.log(-np.expm1(special.log_ndtr(far) - lead))
        return -0.5 * z @ z - len(exact) * tau + censored.sum()

    return value


CURVES = {
    "gm": lambda psi, tau: psi,
    "mean": lambda psi, tau: psi - math.exp(2 * tau) / 2,
    "p95": lambda psi, tau: psi - Z95 * math.exp(tau),
    "exceedance": lambda psi, tau: math.log(60) + psi * math.exp(tau),
}
FIGURES = {
    "gm": lambda m, t: m,
    "mean": lambda m, t: m + math.exp(2 * t) / 2,
    "p95": lambda m, t: m + Z95 * math.exp(t),
    "exceedance": lambda m, t: (m - math.log(60)) / math.exp(t),
    "gsd": lambda m, t: t,
}


def fit(value):
    found = optimize.minimize(lambda p: -value(*p), [1.5, 0.2], method="BFGS")
    return found.x, -found.fun


def all_limits(sample):
    value = likelihood(sample)
    (mu, tau), top = fit(value)
    limits = {}
    for name, figure in FIGURES.items():
        def profile(psi):
            if name == "gsd":
                best = optimize.minimize_scalar(lambda m: -value(m, psi), bracket=(mu - 0.3, mu + 0.3))
            else:
                best = optimize.minimize_scalar(lambda t: -value(CURVES[name](psi, t), t), bracket=(tau - 0.1, tau + 0.1))
            return -best.fun - top + Z95**2 / 2
        centre = figure(mu, tau)
        pair = []
        for side in (-1, 1):
            step = 0.3
            while profile(centre + side * step) > 0:
                step *= 1.6
            pair.append(optimize.brentq(profile, centre, centre + side * step, xtol=1e-8))
        limits[name] = pair
    return limits


def six_chances(sample):
    value = likelihood(sample)
    top = fit(value)[1]
    density = lambda mu, tau: math.exp(value(mu, tau) - top + tau)
    low, high = math.log(0.005), math.log(5000)
    tau_low, tau_high = math.log(math.log(1.05)), math.log(math.log(10))
    total = integrate.dblquad(density, tau_low, tau_high, low, high, epsabs=1e-7, epsrel=1e-6)[0]
    chances = []
    for fraction in (1, 0.5, 0.1):
        for name in ("p95", "mean"):
            cut = lambda tau: min(max(CURVES[name](math.log(50 * fraction), tau), low), high)
            chances.append(integrate.dblquad(density, tau_low, tau_high, cut, high, epsabs=1e-7, epsrel=1e-6)[0] / total)
    return chances


def best(work, runs):
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000 * min(times)


if __name__ == "__main__":
    for name, sample in (("manganese", MANGANESE), ("marks", MARKS)):
        print(f"{name:10} maximum_likelihood          {best(lambda: fit(likelihood(sample)), 20):10.3f} ms")
        print(f"{name:10} fit_with_all_profile_limits {best(lambda: all_limits(sample), 5):10.3f} ms", all_limits(sample)["p95"])
        print(f"{name:10} posterior_six_chances       {best(lambda: six_chances(sample), 1):10.3f} ms", six_chances(sample))
