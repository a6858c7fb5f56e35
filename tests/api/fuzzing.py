"""Mixing what was generated with what leads somewhere, so that every line of a view is reached."""

from __future__ import annotations

import random
from typing import Any
from zlib import crc32

from tests.factories.bodies import bodies
from tests.factories.everything import Everything, path_value

NASTY: tuple[Any, ...] = (
    None, True, 0, -1, 2**31, 2**63, 10**400, 1.5, 1e308, "", " ", "a\0b", "\ud800", "x" * 5000,
    "٣", "Ω", "%00", "'; --", "\u202e", [], {}, [[]], {"": None}, "2026-13-45", "9999-12-31",
    "00000000-0000-0000-0000-000000000000", ["\0"], {"\0": "\ud800"}, "١", "-", "NaN", "1e400",
)  # fmt: skip


def dice_of(*what: object) -> random.Random:
    """Always the same throws for the same example: hypothesis must be able to repeat it."""
    return random.Random(crc32(repr(what).encode("utf-8", "backslashreplace")))


def without_halves(value: Any) -> Any:
    """The same without half surrogate pairs, which the tool cannot print."""
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode()
    if isinstance(value, dict):
        return {without_halves(name): without_halves(inner) for name, inner in value.items()}
    return [without_halves(inner) for inner in value] if isinstance(value, list) else value


def mixed_body(good: Any, generated: Any, dice: random.Random) -> Any:
    """The good body with some of its values replaced by generated or nasty ones."""
    if dice.random() < 0.25 or not isinstance(good, dict):
        return generated
    body = damaged(good, dice, dice.choice((0.0, 0.1, 0.3)))
    if isinstance(generated, dict) and isinstance(body, dict):
        body |= {name: generated[name] for name in generated if dice.random() < 0.25}
    return body


def damaged(value: Any, dice: random.Random, share: float) -> Any:
    """A copy in which about this share of all values, at any depth, is something else."""
    if dice.random() < share / 3:
        return dice.choice(NASTY)
    if isinstance(value, dict):
        kept = {n: damaged(v, dice, share) for n, v in value.items() if dice.random() > share / 6}
        return kept | ({"\0odd": 1} if dice.random() < share / 6 else {})
    if isinstance(value, list):
        rows = [damaged(inner, dice, share) for inner in value]
        return rows * 2 if dice.random() < share / 6 else rows
    return dice.choice(NASTY) if dice.random() < share else value


def lead_somewhere(case: Any, shop: Everything, role: str) -> None:
    """Give a case real ids, a real version and most of a real body, three times out of four."""
    dice = dice_of(case.path_parameters, case.query, case.body)
    path, kind = case.operation.path, type(case.body).__name__
    if case.path_parameters and dice.random() < 0.75:
        name = next(iter(case.path_parameters))
        case.path_parameters[name] = path_value(shop, path)
    if case.headers and "If-Match" in case.headers and dice.random() < 0.75:
        case.headers["If-Match"] = f'"{shop.repair.version}"'
    if case.query and "repair" in case.query and dice.random() < 0.75:
        case.query["repair"] = str(shop.repair.id)
    good = bodies(shop, role).get(f"{case.method.upper()} {path}")
    if good is not None and kind != "NotSet":
        case.body = without_halves(mixed_body(good, case.body, dice))
