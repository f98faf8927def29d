"""Legendre's elliptic integral of the second kind, by Carlson's symmetric integrals.

Source: NIST Digital Library of Mathematical Functions (DLMF), sections 19.16(i) (definitions), 19.25(i)
(E from R_F and R_D), 19.36(i) (duplication), from memory; Carlson, *Numerical Algorithms* 10 (1995) 13-26,
from memory.
"""

from __future__ import annotations

import math

# The series below are cut after order 5, so the error is about the sixth power of this, relative.
_CLOSE = 0.0015


def carlson_rf(x: float, y: float, z: float) -> float:
    """Carlson's R_F(x, y, z), arguments at least 0 and at most one of them 0."""
    while True:
        mean = (x + y + z) / 3
        dx, dy = 1 - x / mean, 1 - y / mean
        dz = -dx - dy
        if max(abs(dx), abs(dy), abs(dz)) < _CLOSE:
            break
        step = math.sqrt(x * y) + math.sqrt(x * z) + math.sqrt(y * z)
        x, y, z = (x + step) / 4, (y + step) / 4, (z + step) / 4
    e2 = dx * dy - dz * dz
    e3 = dx * dy * dz
    # DLMF 19.36.1
    return (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / math.sqrt(mean)


def carlson_rd(x: float, y: float, z: float) -> float:
    """Carlson's R_D(x, y, z), z above 0, x and y at least 0 and at most one of them 0."""
    total, power = 0.0, 1.0
    while True:
        mean = (x + y + 3 * z) / 5
        dx, dy = 1 - x / mean, 1 - y / mean
        dz = -(dx + dy) / 3
        if max(abs(dx), abs(dy), abs(dz)) < _CLOSE:
            break
        step = math.sqrt(x * y) + math.sqrt(x * z) + math.sqrt(y * z)
        total += power / (math.sqrt(z) * (z + step))
        power /= 4
        x, y, z = (x + step) / 4, (y + step) / 4, (z + step) / 4
    xy, zz = dx * dy, dz * dz
    e2 = xy - 6 * zz
    e3 = (3 * xy - 8 * zz) * dz
    e4 = 3 * (xy - zz) * zz
    e5 = xy * zz * dz
    # DLMF 19.36.2
    series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52 + 3 * e5 / 26
    return power * series / (mean * math.sqrt(mean)) + 3 * total


def legendre_e(phi: float, m: float) -> float:
    """Incomplete integral E(phi, k) for any angle phi (radians), parameter m = k squared, 0 <= m < 1.

    DLMF 19.25.9: E = sin phi R_F(cos^2, 1 - m sin^2, 1) - (m/3) sin^3 phi R_D(cos^2, 1 - m sin^2, 1),
    which holds up to a quarter turn; beyond it E(phi + j pi) = E(phi) + 2 j E (DLMF 19.2.10).
    """
    half_turns = round(phi / math.pi)
    rest = phi - half_turns * math.pi
    value = _within_quarter(rest, m)
    if half_turns:
        value += 2 * half_turns * _within_quarter(math.pi / 2, m)
    return value


def _within_quarter(phi: float, m: float) -> float:
    sine, cosine = math.sin(phi), math.cos(phi)
    if sine == 0:
        return 0.0
    x, y = cosine * cosine, 1 - m * sine * sine
    return sine * carlson_rf(x, y, 1.0) - m / 3 * sine**3 * carlson_rd(x, y, 1.0)
