"""Student's t: the factor that makes an interval of a standard error.

Source: Handbook of Mathematical Functions (AMS 55), 26.7.3 and 26.7.4, the finite series for whole degrees of freedom.
"""

from math import atan, cos, inf, pi, sin, sqrt
from statistics import NormalDist


def central_probability(t, freedom):
    """P(|T| <= t) for `freedom` degrees of freedom, a whole number from 1."""
    theta = atan(t / sqrt(freedom))
    c2 = cos(theta) ** 2
    term, total = 1.0, 0.0
    if freedom % 2:
        term = cos(theta)
        for k in range(3, freedom + 1, 2):
            total += term
            term *= c2 * (k - 1) / k
        return 2 / pi * (theta + sin(theta) * total)
    for k in range(2, freedom + 1, 2):
        total += term
        term *= c2 * (k - 1) / k
    return sin(theta) * total


def t_factor(confidence, freedom):
    """The t with P(|T| <= t) = confidence; `freedom` may be infinite, which gives the normal distribution's factor."""
    if freedom == inf:
        return NormalDist().inv_cdf((1 + confidence) / 2)
    low, high = 0.0, 1.0
    while central_probability(high, freedom) < confidence:
        low, high = high, high * 2
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if central_probability(middle, freedom) < confidence else (low, middle)
    return (low + high) / 2
