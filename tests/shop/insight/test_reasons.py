"""Why a repair does not move, in words."""

from datetime import date, timedelta

import pytest

from shop.insight.reasons import Situation, Turn, whose_turn, why_stuck
from tests.factories.core import NOW

TODAY = date(2026, 3, 2)


def ago(days):
    return NOW - timedelta(days=days)


CASES = [
    (Situation("booked_in", ago(2)), None),
    (Situation("booked_in", ago(4)), "booked in for 4 days and not looked over yet"),
    (
        Situation("awaiting_go_ahead", ago(9), has_estimate=True, estimate_sent_at=ago(6)),
        "no answer to the estimate for 6 days",
    ),
    (
        Situation("awaiting_go_ahead", ago(3)),
        "waiting for a go-ahead for 3 days, but no estimate was sent",
    ),
    (
        Situation("awaiting_parts", ago(6), orders=("order 12 not approved",)),
        "waiting for parts for 6 days, order 12 not approved",
    ),
    (
        Situation("awaiting_parts", ago(1), stage_reason="display"),
        "waiting for parts for 1 day (display), no order names them",
    ),
    (Situation("on_the_bench", ago(9), last_entry_at=ago(2)), None),
    (
        Situation("on_the_bench", ago(9), last_entry_at=ago(5)),
        "no entry for 5 days on the bench",
    ),
    (
        Situation("on_the_bench", ago(1), sign_off_missing_in="Mains conversion"),
        "sign-off missing in “Mains conversion”",
    ),
    (
        Situation("on_test", ago(3)),
        "on test for 3 days, the safety check is not finished",
    ),
    (
        Situation("ready", ago(1), not_told_why="no email address"),
        "the customer was not told: no email address",
    ),
    (Situation("ready", ago(20)), "not fetched for 20 days"),
    (Situation("ready", ago(1), due_on=TODAY - timedelta(days=9)), None),
    (
        Situation("on_test", ago(1), due_on=TODAY - timedelta(days=1)),
        "promised for 1 day ago",
    ),
]


@pytest.mark.parametrize(("situation", "sentence"), CASES)
def test_what_is_in_the_way_is_said_in_words(situation, sentence):
    assert why_stuck(situation, now=NOW, today=TODAY) == sentence


@pytest.mark.parametrize(
    ("situation", "turn"),
    [
        (Situation("booked_in", ago(4)), Turn.SHOP),
        (Situation("on_test", ago(3)), Turn.SHOP),
        (Situation("awaiting_go_ahead", ago(3)), Turn.SHOP),
        (Situation("awaiting_go_ahead", ago(9), estimate_sent_at=ago(6)), Turn.OTHERS),
        (Situation("awaiting_parts", ago(6), orders=("order 12 not approved",)), Turn.SHOP),
        (Situation("awaiting_parts", ago(6), is_all_ordered=True), Turn.OTHERS),
        (Situation("awaiting_other", ago(9)), Turn.OTHERS),
        (Situation("ready", ago(1), not_told_why="no email address"), Turn.SHOP),
        (Situation("unclaimed", ago(90)), Turn.CUSTOMER_FETCHES),
    ],
)
def test_it_is_known_who_has_to_move(situation, turn):
    assert whose_turn(situation) == turn
