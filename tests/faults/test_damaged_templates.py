"""Shipped templates, damaged at random: refused with reasons, or still a template that works."""

from __future__ import annotations

import json
import os
import random
from pathlib import Path

import orjson
import pytest
from django.conf import settings

from shop.core.errors import ShopError
from shop.core.ids import new_id
from shop.jobs.models import Revision
from shop.jobs.services import import_template, start_worksheet
from tests.api.fuzzing import damaged
from tests.factories.core import ShopFactory
from tests.factories.jobs import MeterFactory, on_the_bench
from tests.factories.sheets import full_sheet

pytestmark = pytest.mark.django_db
SHIPPED = sorted((Path(settings.ROOT) / "shop" / "jobs" / "templates").glob("*.json"))
EXAMPLES = int(os.environ.get("FUZZ_EXAMPLES", "40"))
FACTS = {"idle_watt": 9, "reading": 5}


def swapped(value, dice):
    """A copy in which two values of the same kind, somewhere, have changed places."""
    if isinstance(value, dict) and len(value) > 1 and dice.random() < 0.05:
        one, other = dice.sample(sorted(value), 2)
        value = {**value, one: value[other], other: value[one]}
    if isinstance(value, dict):
        return {name: swapped(inner, dice) for name, inner in value.items()}
    return [swapped(inner, dice) for inner in value] if isinstance(value, list) else value


def torn(content, dice):
    """Bytes changed, doubled and left out."""
    content = bytearray(content)
    for _change in range(dice.choice((1, 3, 20))):
        at = dice.randrange(len(content))
        match dice.randrange(3):
            case 0:
                content[at] = dice.randrange(256)
            case 1:
                del content[at : at + dice.randrange(1, 40)]
            case 2:
                content[at:at] = content[at : at + 30]
    return bytes(content)


def variant(content, seed):
    dice = random.Random(seed)
    body = orjson.loads(content)
    match seed % 4:
        case 0:
            body = damaged(body, dice, 0.01)
        case 1:
            body = damaged(body, dice, 0.1)
        case 2:
            body = swapped(body, dice)
        case _:
            return torn(content, dice)
    return json.dumps(body).encode()


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_a_damaged_template_is_refused_with_reasons_or_works(file, max):
    ShopFactory()
    MeterFactory()
    repair = on_the_bench(**full_sheet())
    taken = refused = 0

    for seed in range(EXAMPLES):
        content, before = variant(file.read_bytes(), seed), Revision.objects.count()
        revision, no = answer_of(import_template, content=content, by=max)
        if no:
            refused += 1
            require_reasons(no, seed)
            assert Revision.objects.count() == before, seed
        else:
            taken += 1
            require_startable(revision, repair, max, seed)

    assert taken + refused == EXAMPLES
    assert refused > EXAMPLES // 4


def answer_of(service, **wanted):
    """(what it gave, None), or (None, why not). Anything else is a fault of ours."""
    try:
        return service(**wanted), None
    except ShopError as no:
        return None, no


def require_reasons(no, seed):
    """A person can do something with it: each fault has its place."""
    assert no.code == "template_faulty", seed
    assert all(row["detail"] for row in no.facts["errors"]), seed


def require_startable(revision, repair, person, seed):
    """A worksheet starts from it, or the shop says why not."""
    wanted = {"repair": repair, "template": revision.template_id, "by": person, "facts": FACTS}
    _started, no = answer_of(start_worksheet, id=new_id(), **wanted)
    assert no is None or str(no.detail), seed
