"""Codes for tags, drawn at random so that nobody can guess the next one."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import TypeVar

from django.db import IntegrityError, models, transaction

from shop.calc.codes import ALPHABET, BODY_LENGTH, Kind, make_code

Row = TypeVar("Row", bound=models.Model)
MAX_DRAWS = 8


def draw_code(kind: Kind) -> str:
    """A code that was most probably never used: one of 2^30 per kind."""
    return make_code(kind, "".join(secrets.choice(ALPHABET) for _ in range(BODY_LENGTH)))


def with_new_code(kind: Kind, create: Callable[[str], Row], taken: Callable[[str], bool]) -> Row:
    """Create a row under a fresh code, drawing again when the code is taken.

    `taken` tells a used code from another broken constraint, which is passed on at once.
    """
    for _ in range(MAX_DRAWS):
        code = draw_code(kind)
        if taken(code):
            continue
        try:
            with transaction.atomic():
                return create(code)
        except IntegrityError:
            if not taken(code):
                raise
    raise RuntimeError(f"no free code of kind {kind} in {MAX_DRAWS} draws")
