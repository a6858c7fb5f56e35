"""Template files in JSON and YAML: the same body, the same checks, faults with their line."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.jobs.format import check_template, read_template
from shop.jobs.format.writing import written_file
from shop.jobs.shipped import shipped_templates
from tests.factories.jobs import caution, look, reading, template

YAML = """
schema_version: 1
slug: small
title: {en: Small, de: Klein}
summary: "A test: short."
minutes: 5
role: tech
steps:
  - id: unplug
    kind: caution
    title: Unplug it   # words without quotes
    safety: true
  - id: cord
    kind: look
    title: |
      Look
      closely
    choices:
      - {key: yes, label: yes, verdict: pass}
      - {key: no, label: 1:30, verdict: null}
"""


def test_yaml_is_read_as_what_json_can_say():
    body, lines, problems = read_template(YAML.encode())

    assert problems == []
    assert check_template(body, lines) == []
    choices = body["steps"][1]["choices"]
    assert choices == [
        {"key": "yes", "label": "yes", "verdict": "pass"},
        {"key": "no", "label": "1:30", "verdict": None},
    ]
    assert (body["steps"][0]["safety"], body["minutes"]) == (True, 5)
    assert body["steps"][1]["title"] == "Look\nclosely\n"


def test_a_fault_in_yaml_names_its_line():
    text = YAML.replace("minutes: 5", "minutes: five")
    line = next(n for n, row in enumerate(text.splitlines(), 1) if "five" in row)

    body, lines, _none = read_template(text.encode())
    (problem,) = check_template(body, lines)

    assert (problem.field, problem.line) == ("minutes", line)


BOMB = "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n"


@pytest.mark.parametrize(
    ("text", "part", "line"),
    [
        ("slug: a\nslug: b\n", "stands twice", 2),
        ("steps: [1\n", "no JSON or YAML", 2),
        ("\tslug: a", "no JSON or YAML", 1),
        ("a: &x {b: 1}\nc: *x\n", "Aliases", 2),
        (BOMB, "Aliases", 2),
        ("when: !!python/object/apply:os.system [ls]", "Tags", 1),
        ("day: !!timestamp 2026-01-01", "Tags", 1),
        ("? [a, b]\n: 1\n", "name must be text", 1),
        ("a: 1\n---\nb: 2\n", "no JSON or YAML", 2),
        ("a: " + "[" * 60 + "]" * 60, "too deeply", 1),
        ("a: " + "[" * 50_000, "nesting depth", 1),
        ("a: " + "9" * 5000, "no number", 1),
        ("a: 9007199254740993", "too large to be kept", 1),
        ("a: 1e999", "infinite", None),
        ("a: \x07", "no JSON or YAML", None),
        ('{"a": 1, "a": 2}', "stands twice", None),
        ('{"a": ' + "[" * 60 + "]" * 60 + "}", "too deeply", None),
        ('{"a": ' + "[" * 100_000, "no JSON", None),
        ('{"a": 1e999}', "infinite", None),
        ('{"a": 9007199254740993}', "too large to be kept", 1),
        ('{"a": ' + "9" * 5000 + "}", "no JSON", None),
        ('{"a": "\\u0000"}', "NUL", None),
        ('{"a": "\\ud800"}', "cannot be kept", None),
    ],
    ids=range(23),
)
def test_what_no_template_can_hold_is_refused_with_its_line(text, part, line):
    _body, _lines, (problem,) = read_template(text.encode())

    assert part in problem.reason
    assert problem.line == line


@pytest.mark.parametrize("word", ["yes", "off", "12:30", "0o7", "012", "2026-01-01", "+5", ".5",
                                  "1_000", ".inf", "<<", "NaN", "0x1F", "5."])  # fmt: skip
def test_words_that_other_readers_take_for_something_else_stay_words(word):
    body, _lines, problems = read_template(f"a: {word}".encode())

    assert (body, problems) == ({"a": word}, [])


@pytest.mark.parametrize("file", shipped_templates(), ids=lambda file: file.stem)
def test_the_templates_that_come_along_are_the_same_in_yaml(file):
    body = json.loads(file.read_bytes())

    again, lines, problems = read_template(written_file(body, "yaml"))

    assert (again, problems) == (body, [])
    assert lines[("steps", 0)] > 1


texts = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=20) | st.sampled_from(
    [
        "yes",
        "1e3",
        "~",
        "null",
        "- a",
        "a: b",
        "#",
        "",
        " x",
        "1.",
        "true",
        "two\nlines",
        "\n",
        "\t",
    ]
)
numbers = st.integers(-(2**53) + 1, 2**53 - 1) | st.floats(allow_nan=False, allow_infinity=False)
values = st.recursive(
    st.none() | st.booleans() | numbers | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=12,
)


@given(body=st.dictionaries(texts, values, max_size=5), form=st.sampled_from(["yaml", "json"]))
def test_what_is_written_is_read_as_it_was(body, form):
    again, _lines, problems = read_template(written_file(body, form))

    assert (again, problems) == (body, [])


@given(
    content=st.binary(max_size=80)
    | st.text(max_size=80).map(lambda text: text.encode("utf-8", "replace"))
)
def test_any_bytes_are_read_or_refused(content):
    body, _lines, problems = read_template(content)

    assert problems or check_template(body)


def test_a_template_of_the_tests_is_the_same_in_both():
    body = template(caution(), look(), reading())

    assert read_template(written_file(body, "yaml"))[0] == body
    assert read_template(written_file(body, "json"))[0] == body
