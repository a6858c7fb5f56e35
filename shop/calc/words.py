"""Sentences of the calculators, keyed by their English text.

The calculators know no Django, so the project lends them its translation at start-up
(`speak_through(gettext)`); until then they speak English.
"""

from __future__ import annotations

from collections.abc import Callable


class _Speaker:
    translate: Callable[[str], str] = staticmethod(str)


def speak_through(translate: Callable[[str], str]) -> None:
    """Use this function (for example gettext) for every sentence from now on."""
    _Speaker.translate = staticmethod(translate)


def gettext_noop(text: str) -> str:
    """Mark a sentence that stands in a table, for the collector; `_` speaks it where it is used."""
    return text


def _(text: str, /, **named: object) -> str:
    """The sentence in the reader's language, with its named places filled."""
    sentence = _Speaker.translate(text)
    return sentence.format(**named) if named else sentence
