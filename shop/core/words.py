"""Looking for words in texts, the same on every database."""

from __future__ import annotations

import re

from django.db.models import F, Q, Value
from django.db.models.expressions import Combinable
from django.db.models.functions import Replace
from django.db.models.lookups import IContains

MAX_WORDS = 6
JOINTS = "- "


def text_matches(scrap: str, *fields: str) -> Q:
    """Rows where every word of the scrap stands somewhere in the fields, in any case.

    A word with a figure in it, as the names of models have, also fits where hyphens and spaces
    stand otherwise: "PX7" finds "PX-7".
    """
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
    return found | _without_joints(word, fields) if re.search(r"[0-9]", word) else found


def _without_joints(word: str, fields: tuple[str, ...]) -> Q:
    bare = word.replace("-", "")
    return Q(*(Q(IContains(_joined(field), bare)) for field in fields if bare), _connector=Q.OR)


def _joined(field: str) -> Combinable:
    """What a field holds, without its hyphens and spaces."""
    joined: Combinable = F(field)
    for joint in JOINTS:
        joined = Replace(joined, Value(joint), Value(""))
    return joined
