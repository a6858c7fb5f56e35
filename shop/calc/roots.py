"""Finding a root between two points where the sign differs."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite

_MOST_STEPS = 200


def root_between(f: Callable[[float], float], a: float, b: float) -> float:
    """The root of a continuous function between `a` and `b`, to the last few bits.

    Chandrupatla's method: inverse quadratic interpolation where the last three points make it
    safe, halving otherwise, so it never leaves the bracket and never does worse than halving by
    more than a few steps. Raises ValueError if the ends have the same sign or are not finite.
    Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145-149 (from memory).
    """
    fa, fb = f(a), f(b)
    if fa == 0:
        return a
    if fb == 0:
        return b
    if not (isfinite(fa) and isfinite(fb)) or (fa > 0) == (fb > 0):
        raise ValueError(f"no change of sign between {a} and {b}")
    return _narrow(f, a, fa, b, fb)


def _narrow(f: Callable[[float], float], a: float, fa: float, b: float, fb: float) -> float:
    share = 0.5
    for _ in range(_MOST_STEPS):
        x = a + share * (b - a)
        fx = f(x)
        if (fx > 0) == (fa > 0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = x, fx
        best = a if abs(fa) < abs(fb) else b
        least = 2e-16 * abs(best) + 1e-300
        if fx == 0 or abs(b - a) <= 2 * least:
            return best
        share = _next_share(a, fa, b, fb, c, fc)
        edge = least / abs(b - a)
        share = min(max(share, edge), 1 - edge)
    return best


def _next_share(a: float, fa: float, b: float, fb: float, c: float, fc: float) -> float:
    """How far from a to b to look next: by interpolation if it is safe, else half way."""
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if not (phi * phi < xi and (1 - phi) * (1 - phi) < 1 - xi):
        return 0.5
    return fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
