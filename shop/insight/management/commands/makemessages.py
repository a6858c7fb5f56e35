"""`makemessages -l de`: Django's collector, with the words added that forms are drawn with.

It stands in the last of the apps because it asks the others for their forms.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
from django.core.management.commands.makemessages import Command as MakeMessages

from shop.calc.registry import Calculator, calculators
from shop.calc.schemas import spoken
from shop.units.shapes import Sheet

# The collector reads files; forms keep their words in the types of fields. Gone afterwards.
WORDS = Path(__file__).parents[3] / "calc" / "words_of_forms.py"


class Command(MakeMessages):
    # `gettext_noop` is imported by these names where sentences stand in a table.
    xgettext_options = [*MakeMessages.xgettext_options, "--keyword=_noop", "--keyword=n"]  # noqa: RUF012 # as in the base
    # A guess from a sentence alike is worse than none.
    msgmerge_options = [*MakeMessages.msgmerge_options, "--no-fuzzy-matching"]  # noqa: RUF012 # as in the base

    def handle(self, *args: Any, **options: Any) -> str | None:
        words = dict.fromkeys(word for one in calculators().values() for word in words_of(one))
        words |= dict.fromkeys(words_on(msgspec.json.schema(Sheet)))
        WORDS.write_text("".join(f"_({word!r})\n" for word in words))
        try:
            return super().handle(*args, **options)
        finally:
            WORDS.unlink()


def words_of(one: Calculator) -> list[str]:
    """Title, question, and what stands on the form."""
    return [one.title, one.question, *words_on(one.schemas()["input"])]


def words_on(schema: dict[str, Any]) -> list[str]:
    """What people read of a form that is drawn from this schema."""
    found: list[str] = []

    def take(word: str) -> str:
        found.append(word)
        return word

    whole = schema["$defs"][schema["$ref"].rpartition("/")[2]]
    del whole["title"], whole["description"]  # the whole form: its title stands elsewhere
    spoken(schema, take)
    return found
