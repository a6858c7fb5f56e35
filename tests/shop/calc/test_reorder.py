"""When to order. The trace is from the University of Hamburg open course, lecture 4."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.reorder import inventory_position, is_order_due, quantity_to_order


# s = 100, Q = 250, three weeks, start 120, demand 30 40 50 45: order in week 1; position 340 300
# 250 205; on hand 90 50 0 205.
def test_the_published_trace_comes_out():
    on_hand, on_order, due = 120, 0, None
    positions, stock = [], []
    for week, demand in enumerate([30, 40, 50, 45], start=1):
        if week == due:
            on_hand, on_order = on_hand + on_order, 0
        on_hand -= demand
        if is_order_due(inventory_position(on_hand, on_order, 0), 100):
            on_order, due = 250, week + 3
        positions.append(inventory_position(on_hand, on_order, 0))
        stock.append(on_hand)

    assert positions == [340, 300, 250, 205]
    assert stock == [90, 50, 0, 205]
    assert due == 4


def test_what_is_on_order_counts_and_what_is_reserved_does_not():
    assert not is_order_due(inventory_position(1, 10, 0), 5)
    assert is_order_due(inventory_position(9, 0, 4), 5)


@given(st.integers(-50, 200), st.integers(0, 200), st.integers(1, 30), st.integers(1, 30))
def test_an_order_brings_the_position_up_by_whole_packs_and_not_a_pack_too_many(
    position, up_to, pack, least
):
    quantity = quantity_to_order(position, up_to, pack, least)

    assert quantity % pack == 0
    if position >= up_to:
        assert quantity == 0
    else:
        assert quantity >= max(least, up_to - position)
        assert quantity - pack < max(least, up_to - position)


@pytest.mark.parametrize(("pack", "least", "quantity"), [(1, 1, 7), (5, 1, 10), (1, 20, 20)])
def test_quantities_by_hand(pack, least, quantity):
    assert quantity_to_order(3, 10, pack, least) == quantity
