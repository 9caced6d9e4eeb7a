"""Chi-squared: how improbable a sum of squared residuals is.

Source: Handbook of Mathematical Functions (AMS 55), 26.4.4 and 26.4.5, the finite series for whole degrees of freedom.
"""

from math import erfc, exp, pi, sqrt


def probability_beyond(chi_squared, freedom):
    """P(X >= chi_squared) for `freedom` degrees of freedom, a whole number from 1."""
    if chi_squared <= 0:
        return 1.0
    half = chi_squared / 2
    if freedom % 2:
        total, term = erfc(sqrt(half)), sqrt(2 * chi_squared / pi) * exp(-half)
        for k in range(3, freedom + 1, 2):
            total += term
            term *= chi_squared / k
        return total
    total, term = 0.0, exp(-half)
    for k in range(2, freedom + 1, 2):
        total += term
        term *= chi_squared / k
    return total
