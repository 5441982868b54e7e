"""The ear's weighting of ITU-R BS.1770-4, at any sample rate.

The standard gives two filters by their coefficients at 48 kHz; here is the analogue pair behind
them, carried to other rates by the bilinear transform (parameters as recovered from the
standard's tables by Brecht De Man).
"""

from math import pi, tan

import numpy as np

SHELF_HZ, SHELF_Q, SHELF_DB = 1681.9744509555319, 0.7071752369554193, 3.99984385397
SHELF_MIDDLE_POWER = 0.499666774155
CUT_HZ, CUT_Q = 38.13547087613982, 0.5003270373253953


def k_weighting(rate_hz: int) -> np.ndarray:
    """Second-order sections: the head's shelf, then the low cut."""
    k = tan(pi * SHELF_HZ / rate_hz)
    high = 10 ** (SHELF_DB / 20)
    middle = high ** SHELF_MIDDLE_POWER
    a0 = 1 + k / SHELF_Q + k * k
    shelf = [(high + middle * k / SHELF_Q + k * k) / a0, 2 * (k * k - high) / a0,
             (high - middle * k / SHELF_Q + k * k) / a0, 1.0, 2 * (k * k - 1) / a0, (1 - k / SHELF_Q + k * k) / a0]
    k = tan(pi * CUT_HZ / rate_hz)
    a0 = 1 + k / CUT_Q + k * k
    cut = [1.0, -2.0, 1.0, 1.0, 2 * (k * k - 1) / a0, (1 - k / CUT_Q + k * k) / a0]
    return np.array([shelf, cut])


def k_weight_power(frequency_hz: np.ndarray, rate_hz: int) -> np.ndarray:
    """Squared magnitude of the K-weighting at the given frequencies."""
    z = np.exp(-2j * np.pi * frequency_hz / rate_hz)
    response = np.ones_like(z)
    for b0, b1, b2, a0, a1, a2 in k_weighting(rate_hz):
        response *= (b0 + b1 * z + b2 * z * z) / (a0 + a1 * z + a2 * z * z)
    return np.abs(response) ** 2
