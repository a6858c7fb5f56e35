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


def _(text: str, /, **named: object) -> str:
    """The sentence in the reader's language, with its named places filled."""
    sentence = _Speaker.translate(text)
    return sentence.format(**named) if named else sentence
