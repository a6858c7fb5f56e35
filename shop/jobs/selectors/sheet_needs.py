"""What job templates take from a model sheet and do not find there."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any
from uuid import UUID

from shop.jobs.models import Revision
from shop.jobs.packing.values import NotKnown, Values
from shop.jobs.selectors.templates import published_revisions
from shop.units.models import ModelSheet, SupplyKind
from shop.units.shapes import FIELDS, sheet_schema, title_at

# What only some units have: nobody misses the valves of a drum machine.
ONLY_WITH_A_MAINS_TRANSFORMER = ("primary", "supplies", "secondaries")
NOT_IN_EVERY_UNIT = ("valves", "mains_parts", "reset_procedure", "known_faults")


def lacks_of(sheets: list[ModelSheet]) -> list[list[dict[str, Any]]]:
    """For each sheet the published templates that miss something on it, and what."""
    named = list(published_revisions().values_list("id", "template_id", "template__title"))
    schema = sheet_schema()
    return [
        [
            {"template": slug, "title": title, "what": what}
            for id, slug, title in named
            if (what := _missing(sheet, _paths(id), schema))
        ]
        for sheet in sheets
    ]


def _missing(sheet: ModelSheet, paths: tuple[str, ...], schema: dict[str, Any]) -> list[str]:
    values = Values({"sheet": {name: getattr(sheet, name) for name in FIELDS}})
    missing = [path for path in paths if _applies(sheet, path) and not _is_known(values, path)]
    # Where a whole part is missing, what would stand inside of it is not told one by one.
    tops = [path for path in missing if not _is_known(values, _top(path))]
    told = {_top(path) if path in tops else path: None for path in missing}
    return [title_at(schema, path.removeprefix("sheet.")) for path in told]


def _applies(sheet: ModelSheet, path: str) -> bool:
    field = path.split(".")[1]
    if field in ONLY_WITH_A_MAINS_TRANSFORMER:
        return sheet.supply_kind == SupplyKind.LINEAR
    if field == "cell":
        return "battery_logic" in sheet.features
    return field not in NOT_IN_EVERY_UNIT


def _is_known(values: Values, path: str) -> bool:
    try:
        values.get(path)
    except NotKnown:
        return False
    return True


def _top(path: str) -> str:
    return ".".join(path.split(".")[:2])


@lru_cache(maxsize=256)
def _paths(revision: UUID) -> tuple[str, ...]:
    """The paths of a sheet that a revision needs. A revision never changes, so it is read once."""
    body = Revision.objects.values_list("body", flat=True).get(id=revision)
    return tuple(dict.fromkeys(path for path in _named_in(body) if path.split(".")[1] in FIELDS))


def _named_in(part: Any) -> Iterator[str]:
    """What is named as a fact or looped over, unless the template can do without it."""
    if isinstance(part, list):
        for inner in part:
            yield from _named_in(inner)
    if not isinstance(part, dict) or part.get("optional") or "first" in part:
        return
    for key, inner in part.items():
        if key in ("fact", "over") and isinstance(inner, str) and inner.startswith("sheet."):
            yield inner
        elif key != "facts":  # those are asked where the sheet does not answer
            yield from _named_in(inner)
