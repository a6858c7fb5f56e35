"""Template files, damaged in every way: refused with reasons, or still a template that works."""

from __future__ import annotations

import json
import os
import random
import re

import orjson
import pytest

from shop.core.errors import ShopError
from shop.core.ids import new_id
from shop.jobs.format.writing import written_file
from shop.jobs.models import Draft, Revision
from shop.jobs.services import import_file, import_template, start_worksheet
from shop.jobs.shipped import shipped_templates
from tests.api.fuzzing import damaged
from tests.factories.core import ShopFactory
from tests.factories.jobs import MeterFactory, on_the_bench
from tests.factories.templates import ANSWERS, SHEET, with_everything

pytestmark = pytest.mark.django_db
FILES = {file.stem: file.read_bytes() for file in shipped_templates()}
FILES["everything"] = json.dumps(with_everything()).encode()
EXAMPLES = int(os.environ.get("FUZZ_EXAMPLES", "18"))
FACTS = {"idle_watt": "9", "reading": "5"}
DAMAGES = 9


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


def one_changed(body, dice, change):
    """The body with one of its values, at any depth, changed."""
    places = []

    def walk(node):
        for name, inner in node.items() if isinstance(node, dict) else enumerate(node):
            places.append((node, name))
            if isinstance(inner, dict | list):
                walk(inner)

    walk(body)
    node, name = dice.choice(places)
    node[name] = change(node[name])
    return body


def numbers_changed(body, dice):
    """Numbers of other sizes, where there were numbers."""
    sizes = ("-1", "0", "1e308", "-1e-308", "1e999", "9" * 400, "9007199254740993", "0.5", "1e18")
    text = json.dumps(body)
    return re.sub(
        r"(?<=: )\d+", lambda n: dice.choice(sizes) if dice.random() < 0.1 else n[0], text
    )


def nested(dice):
    depth = dice.choice((30, 45, 2000, 100_000))

    def change(inner):
        text = "[" * min(depth, 900) + "]" * min(depth, 900)
        return json.loads(text) if depth < 1000 else inner

    return change


def in_yaml(body, dice):
    """YAML with what YAML can do: anchors and aliases, tags, bombs, torn lines."""
    text = written_file(body, "yaml").decode()
    lines = text.splitlines()
    at = dice.randrange(len(lines))
    match dice.randrange(5):
        case 0:
            text = text.replace("role: tech", "role: &role tech\nother: *role", 1)
        case 1:
            text += "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"
        case 2:
            text = "\n".join(
                [*lines[:at], lines[at].replace(": ", ": !!set ", 1), *lines[at + 1 :]]
            )
        case 3:
            text = "\n".join([*lines[:at], " " * dice.randrange(9) + lines[at], *lines[at + 1 :]])
        case _:
            return torn(text.encode(), dice)
    return text.encode()


def variant(content, seed):
    dice = random.Random(seed)
    body = orjson.loads(content)
    match seed % DAMAGES:
        case 0:
            body = damaged(body, dice, 0.01)
        case 1:
            body = damaged(body, dice, 0.1)
        case 2:
            body = swapped(body, dice)
        case 3:
            return torn(content, dice)
        case 4:
            body = one_changed(body, dice, nested(dice))
        case 5:
            return numbers_changed(body, dice).encode()
        case 6:  # an id, a key or a name that another one has
            text = json.dumps(body)
            ids = re.findall(r'"(?:id|key|name)": "([^"]+)"', text)
            one, other = dice.choice(ids), dice.choice(ids)
            return text.replace(f'"{one}"', f'"{other}"', 1).encode()
        case 7:
            return in_yaml(body, dice)
        case _:
            body = one_changed(
                body, dice, lambda _inner: dice.choice((None, "", 0, [], {}, "{", True))
            )
    return json.dumps(body).encode()


@pytest.fixture
def shelf(max):
    """A shop with every template, so that damaged ones find those they work."""
    ShopFactory()
    MeterFactory()
    for content in FILES.values():
        import_template(content=content, by=max)
    return on_the_bench(**SHEET)


@pytest.mark.parametrize("name", FILES)
def test_a_damaged_template_is_refused_with_reasons_or_works(name, shelf, max):
    taken = refused = 0

    for seed in range(EXAMPLES):
        content, before = variant(FILES[name], seed), Revision.objects.count()
        revision, no = answer_of(import_template, content=content, by=max)
        if no:
            refused += 1
            require_reasons(no, seed)
            assert Revision.objects.count() == before, seed
        else:
            taken += 1
            require_startable(revision, shelf, max, seed)
        require_draft_or_reasons(content, max, seed)

    assert taken + refused == EXAMPLES
    assert refused > EXAMPLES // 4


def test_more_than_two_hundred_files_are_tried():
    assert len(FILES) * EXAMPLES > 200


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
    asked = {fact["key"] for fact in revision.body.get("facts", [])}
    facts = {key: answer for key, answer in {**FACTS, **ANSWERS}.items() if key in asked}
    wanted = {"repair": repair, "template": revision.template_id, "by": person, "facts": facts}
    _started, no = answer_of(start_worksheet, id=new_id(), **wanted)
    assert no is None or str(no.detail), seed


def require_draft_or_reasons(content, person, seed):
    """Taken in as a draft, with its faults beside it, or refused in words; nothing in between."""
    before = Draft.objects.count()
    taken, no = answer_of(import_file, content=content, by=person)
    if no:
        assert str(no.detail), seed
        assert Draft.objects.count() == before, seed
    else:
        assert taken.drafts or taken.unchanged, seed
