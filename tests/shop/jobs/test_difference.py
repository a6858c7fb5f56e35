"""What differs between two states of a template, as sentences."""

from __future__ import annotations

import json
import random
import re
from copy import deepcopy
from pathlib import Path

import pytest
from django.conf import settings
from hypothesis import given
from hypothesis import strategies as st

from shop.jobs.format import check_template
from shop.jobs.format.difference import differences
from shop.jobs.format.difference.same import moved, same
from tests.factories.jobs import caution, look, reading, template

SHIPPED = sorted((Path(settings.ROOT) / "shop" / "jobs" / "templates").glob("*.json"))
BODIES = [json.loads(file.read_text()) for file in SHIPPED]


def texts(before, after):
    return [change.text for change in differences(before, after)]


def fuse():
    return {
        "name": "scaled", "title": "Fuse for here", "calculator": "fuses.scale",
        "given": {"old_mark": {"value": "T80mAL250V"}, "old_volt": {"value": 115},
                  "new_volt": {"value": 230}},
    }  # fmt: skip


def test_steps_are_added_taken_out_and_moved_by_their_ids():
    one, two, three = caution(), look("cord", title="Cord"), reading("rails", title="Rails")

    added = differences(template(one, two), template(one, two, three))
    moved_up = texts(template(one, two, three), template(one, three, two))

    assert [(c.what, c.step, c.text) for c in added] == [
        ("added", "rails", 'Step "Rails" was added after "Cord".')
    ]
    assert texts(template(one, two), template(one)) == ['Step "Cord" was taken out.']
    assert moved_up == ['Step "Rails" comes after "Unplug it" now.'] or moved_up == [
        'Step "Cord" comes after "Rails" now.'
    ]


def test_limits_are_said_with_their_unit_and_where_they_come_from():
    before = reading("idle", title="Idle power", quantity="power", band={"low": 10, "high": 30})
    after = {**before, "band": {"low": 10, "high": {"fact": "sheet.rated_watt"}}}
    worked = {**before, "band": {"low": 10, "high": {"work": "scaled.value.ampere"}}}

    (by_sheet,) = differences(template(before), template(after))
    (by_work,) = texts(template(before, work=[fuse()]), template(worked, work=[fuse()]))

    assert by_sheet.text == ('Upper limit of "Idle power" changed from 30 W to Rated power.')
    assert (by_sheet.field, by_sheet.before) == ("steps.idle.band.high", "30 W")
    assert 'to ampere from calculator "Fuse for here".' in by_work


def test_head_facts_parts_work_gates_and_cautions_are_said():
    def body(minutes, ask, mark, reason, care, count):
        return template(
            minutes=minutes,
            facts=[{"key": "idle", "title": ask, "quantity": "power"}],
            work=[{**fuse(), "given": {**fuse()["given"], "old_mark": {"value": mark}}}],
            gates=[{"when": {"eq": ["sheet.supply_kind", "external"]}, "reason": reason}],
            cautions=[care],
            parts=[{"key": "f", "name": "Fuse", "quantity": count}],
        )

    found = texts(
        body(5, "Idle?", "T80mAL250V", "Not here.", "Take care.", 1),
        body(6, "Idle power?", "T100mAL250V", "Not these.", "Take more care.", 2),
    )

    assert found == [
        "Time planned of the job template changed from 5 minutes to 6 minutes.",
        'Caution of the job template changed from "Take care." to "Take more care."',
        'Reason of "Not these." changed from "Not here." to "Not these."',
        'Title of "Idle power?" changed from "Idle?" to "Idle power?".',
        'Quantity of "Fuse" changed from 1 to 2.',
        'Value of "old mark" of "Fuse for here" changed from T80mAL250V to T100mAL250V.',
    ]


def test_long_texts_are_shown_beside_the_sentence():
    before, after = "Read it slowly. " * 8, "Read it twice. " * 8

    (change,) = differences(template(look(text=before)), template(look(text=after)))

    assert change.text == 'Text of "Look" changed.'
    assert before in change.before
    assert after in change.after


def test_flags_choices_conditions_variants_and_blocks_are_said():
    case = {"keys": ["cord"], "cases": {"damaged": {"title": "Rail after repair"}}}
    loop = {"over": "sheet.rails", "as": "rail", "max": 4}
    rail = {"id": "each", "kind": "note", "title": "{rail.name}"}
    before = template(caution(), look(), reading(), {"repeat": loop, "steps": [rail]})
    after = template(
        caution(),
        look(safety=True),
        reading(when={"eq": ["cord", "sound"]}, variants=case),
        {**rail, "repeat": loop},
    )
    after["steps"][1]["choices"][1]["label"] = "torn"

    assert texts(before, after) == [
        'Label of "torn" of "Look" changed from "damaged" to "torn".',
        '"Look" is a safety step now.',
        'New for "Rail": Condition – "Look" is "sound".',
        'New for "Rail": Variants – hanging on "Look".',
        '"{rail.name}" is no longer repeated together with the steps beside it.',
    ]


def test_a_text_in_another_language_alone_is_named():
    before = template(look(title={"en": "Cord", "de": "Kabel"}))
    after = template(look(title={"en": "Cord", "de": "Netzkabel"}))

    assert texts(before, after) == ['Title of "Cord" changed in German.']


@pytest.mark.parametrize("before", BODIES, ids=lambda body: body["slug"])
@pytest.mark.parametrize("after", BODIES, ids=lambda body: body["slug"])
def test_any_two_shipped_templates_can_be_compared(before, after):
    found = differences(before, after)

    assert bool(found) == (before != after)
    assert_readable(found)


def assert_readable(changes):
    for change in changes:
        assert change.text[:1] == change.text[:1].upper(), change
        assert change.text.endswith((".", '."')), change
        assert not re.search(r'\{"|\["|\{\'|\[\'|(from|to|–) None|: true', change.text), change


def changed_somewhere(body, dice):
    """A copy in which something was left out, doubled, swapped or taken from another template."""
    body = deepcopy(body)
    spots = list(spots_in(body))
    for _change in range(dice.choice((1, 1, 2, 5))):
        node, name = dice.choice(spots)
        if isinstance(node, list) and 0 <= name < len(node):
            match dice.randrange(3):
                case 0:
                    del node[name]
                case 1:
                    node.insert(name, dice.choice(node))
                case 2:
                    dice.shuffle(node)
        elif isinstance(node, dict) and name in node:
            others = [n[m] for n, m in spots if m == name and isinstance(n, dict) and m in n]
            if dice.random() < 0.3:
                del node[name]
            else:
                node[name] = deepcopy(dice.choice(others))
    return body


def spots_in(node):
    if isinstance(node, dict):
        for name, inner in node.items():
            yield node, name
            yield from spots_in(inner)
    elif isinstance(node, list):
        for index, inner in enumerate(node):
            yield node, index
            yield from spots_in(inner)


@given(st.sampled_from(BODIES), st.integers(0, 10**9))
def test_no_change_of_a_sound_template_is_passed_over(body, seed):
    other = changed_somewhere(body, random.Random(seed))
    if check_template(other):
        return

    found = differences(body, other)

    assert bool(found) != same(body, other), other
    assert_readable(found)
    assert bool(differences(other, body)) == bool(found)


@given(st.lists(st.integers(0, 9), unique=True), st.randoms())
def test_what_did_not_move_keeps_its_order(before, dice):
    after = list(before)
    dice.shuffle(after)

    still = [name for name in after if name not in moved(before, after)]

    assert still == [name for name in before if name in still]
    assert (not moved(before, after)) == (before == after)


def test_json_equality_tells_yes_from_one():
    assert same({"a": [1, None]}, {"a": [1.0, None]})
    assert not same({"a": True}, {"a": 1})
    assert not same({"a": None}, {})
