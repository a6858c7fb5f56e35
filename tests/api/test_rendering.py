"""What an answer says when its data has what JSON, or its maker, has no word for."""

import json

from api.rendering import OrjsonRenderer


def rendered(data: object) -> object:
    return json.loads(OrjsonRenderer().render(data))


def test_a_whole_number_of_more_than_64_bits_is_said_as_a_float():
    answer = rendered({"value": [10**300, -(10**30), 2**63, -(2**63), 2**64 - 1]})

    assert answer == {"value": [1e300, -1e30, 2**63, -(2**63), 2**64 - 1]}


def test_a_whole_number_that_no_float_reaches_is_said_by_its_digits():
    assert rendered([10**400]) == ["1" + "0" * 400]


def test_half_a_surrogate_pair_is_said_as_a_question_mark():
    assert rendered({"a\ud800": "b\udc00"}) == {"a?": "b?"}


def test_truth_stays_truth_beside_a_large_number():
    assert rendered([True, 10**30]) == [True, 1e30]
