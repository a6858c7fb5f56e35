"""The root finder against scipy's, which is only used here."""

from math import exp, isnan, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from shop.calc.roots import root_between

shapes = st.sampled_from(
    [
        lambda x, r: x - r,
        lambda x, r: (x - r) ** 3,
        lambda x, r: exp(x / 10) - exp(r / 10),
        lambda x, r: (x + 100) ** 0.55 - (r + 100) ** 0.55,
        lambda x, r: (x - r) / (1 + abs(x - r)),
    ]
)


@given(shapes, st.floats(-50, 50), st.floats(0.1, 40), st.floats(0.1, 40))
def test_the_root_is_the_one_brentq_finds(shape, root, below, above):
    a, b = root - below, root + above

    ours = root_between(lambda x: shape(x, root), a, b)

    theirs = brentq(lambda x: shape(x, root), a, b, xtol=1e-13, rtol=1e-14, maxiter=999)
    assert a <= ours <= b
    assert ours == pytest.approx(theirs, rel=1e-9, abs=2e-5)


def test_a_root_at_an_end_is_given_at_once():
    assert root_between(lambda x: x, 0.0, 5.0) == 0.0
    assert root_between(lambda x: x - 5, 0.0, 5.0) == 5.0


@pytest.mark.parametrize("f", [lambda x: x * x + 1, lambda x: nan])
def test_without_a_change_of_sign_there_is_no_root(f):
    with pytest.raises(ValueError, match="no change of sign"):
        root_between(f, -1.0, 1.0)


def test_few_steps_are_needed():
    seen = []

    def f(x):
        seen.append(x)
        return x**0.55 - 2.0

    root = root_between(f, 0.0, 230.0)

    assert root == pytest.approx(2.0 ** (1 / 0.55), rel=1e-14)
    assert len(seen) <= 20
    assert not any(isnan(x) for x in seen)
