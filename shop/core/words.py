"""Looking for words in texts, the same on every database."""

from __future__ import annotations

from django.db.models import Q

MAX_WORDS = 6


def text_matches(scrap: str, *fields: str) -> Q:
    """Rows where every word of the scrap stands somewhere in the fields, in any case."""
    found = Q()
    for word in scrap.split()[:MAX_WORDS]:
        found &= _word_in_any(word, fields)
    return found


def _word_in_any(word: str, fields: tuple[str, ...]) -> Q:
    # SQLite folds the case of ASCII letters only, so "MÜLLER" would not find "Müller".
    forms = {word} if word.isascii() else {word, word.lower(), word.upper(), word.capitalize()}
    found = Q()
    for form in forms:
        for field in fields:
            found |= Q(**{f"{field}__icontains": form})
    return found
