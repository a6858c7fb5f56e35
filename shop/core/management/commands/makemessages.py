"""`makemessages -l de`: Django's collector, with the words of the calculators' forms added."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.commands.makemessages import Command as MakeMessages

from shop.calc.registry import Calculator, calculators
from shop.calc.schemas import spoken

# The collector reads files; forms keep their words in the types of fields. Gone afterwards.
WORDS = Path(__file__).parents[3] / "calc" / "words_of_forms.py"


class Command(MakeMessages):
    # The calculators import `gettext_noop` by this name where a sentence stands in a table.
    xgettext_options = [*MakeMessages.xgettext_options, "--keyword=_noop"]  # noqa: RUF012 # as in the base
    # A guess from a sentence alike is worse than none.
    msgmerge_options = [*MakeMessages.msgmerge_options, "--no-fuzzy-matching"]  # noqa: RUF012 # as in the base

    def handle(self, *args: Any, **options: Any) -> str | None:
        words = dict.fromkeys(word for one in calculators().values() for word in words_of(one))
        WORDS.write_text("".join(f"_({word!r})\n" for word in words))
        try:
            return super().handle(*args, **options)
        finally:
            WORDS.unlink()


def words_of(one: Calculator) -> list[str]:
    """Title, question, and what stands on the form."""
    found = [one.title, one.question]

    def take(word: str) -> str:
        found.append(word)
        return word

    schema = one.schemas()["input"]
    whole = schema["$defs"][schema["$ref"].rpartition("/")[2]]
    del whole["title"], whole["description"]  # the whole form: its title is the calculator's
    spoken(schema, take)
    return found
