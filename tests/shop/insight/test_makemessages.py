"""What the collector of sentences gathers beside Django's own."""

import re
from pathlib import Path

import msgspec

from shop.calc.registry import calculators
from shop.insight.management.commands.makemessages import Command, words_of, words_on
from shop.units.shapes import Sheet


def test_a_calculator_gives_its_title_question_and_the_words_of_its_form():
    words = words_of(calculators()["fuses.scale"])

    assert {
        "Fuse for another supply",
        "Which fuse does a unit need whose primary was re-connected for another supply?",
        "Supply before",  # the title of a field
        "one fuse in each winding",  # a choice
    } <= set(words)


def test_what_programs_compare_is_not_gathered():
    words = words_of(calculators()["fuses.scale"])

    assert not {"common_line", "iec", "T160mAL250V", "ScaleIn"} & set(words)


def test_the_form_of_a_model_sheet_gives_its_words_too():
    words = words_on(msgspec.json.schema(Sheet))

    assert {"Supplies it can be set for", "Cell to fit now", "potentiometer"} <= set(words)


def test_sentences_in_tables_are_gathered_under_every_name_that_marks_them():
    code = "".join(path.read_text() for path in Path("shop").rglob("*.py"))

    names = set(re.findall(r"import gettext_noop as (\w+)", code))

    assert names >= {"n", "_noop"}
    assert {f"--keyword={name}" for name in names} <= set(Command.xgettext_options)
