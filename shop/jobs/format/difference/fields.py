"""What the fields of a template are called in a sentence, and how their values are said."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as n

from shop.benches.models import MeterKind
from shop.core.models import Role
from shop.jobs.format.said import Saying
from shop.jobs.format.texts import in_language
from shop.jobs.format.words import field_in_words, kind_in_words, quantity_in_words

Say = Callable[[Saying, Any], str]

LABELS: dict[str, str] = {
    "along": n("What it runs along"),
    "as": n("Name of a row"),
    "band": n("Limits"),
    "block_when_fact": n("Condition of the repeated steps"),
    "blocks": n("Must pass"),
    "calculator": n("Calculator"),
    "caption": n("Caption"),
    "cautions": n("Cautions"),
    "choices": n("Choices"),
    "columns": n("Columns"),
    "dwell_seconds": n("Wait at each setting"),
    "energised": n("Worked with power on"),
    "for_each": n("Repetition"),
    "from": n("Where the answer is taken from"),
    "given": n("What the calculator is given"),
    "goes_on": n("Work goes on"),
    "group": n("Group"),
    "high": n("Upper limit"),
    "kind": n("Kind"),
    "label": n("Label"),
    "limits": n("Limits of the row"),
    "low": n("Lower limit"),
    "mains": n("Touches mains or stored charge"),
    "max": n("Most rows"),
    "meter_kinds": n("Meters that may be used"),
    "minutes": n("Time planned"),
    "name": n("Name"),
    "names": n("Asks for names"),
    "nominal": n("Nominal value"),
    "order_code": n("Order code"),
    "other_person": n("Signed by another person"),
    "over": n("List of the rows"),
    "part": n("Part"),
    "phase": n("As found or as left"),
    "pictures": n("Pictures"),
    "points": n("Points of the limits"),
    "procedure": n("Procedure"),
    "proves": n("What it proves"),
    "quantity": n("Quantity"),
    "ramp": n("Ramp"),
    "reason": n("Reason"),
    "repeat": n("Repetition"),
    "required": n("Must be done"),
    "revision": n("Revision"),
    "role": n("Role"),
    "rows": n("Rows"),
    "rule": n("Decision rule"),
    "safety": n("Safety step"),
    "schema_version": n("Version of the format"),
    "seconds": n("Waiting time"),
    "set_percent": n("Setting in percent"),
    "set_volt": n("Setting in volts"),
    "sha256": n("Picture"),
    "slug": n("Short name"),
    "steps": n("Steps"),
    "stop_rules": n("Rules for stopping"),
    "summary": n("Summary"),
    "table": n("Table"),
    "template": n("Job template"),
    "text": n("Text"),
    "title": n("Title"),
    "unit": n("Unit"),
    "value": n("Value"),
    "variants": n("Variants"),
    "verdict": n("Verdict"),
    "waiting_text": n("Text while waiting"),
    "when": n("Condition"),
    "when_fact": n("Condition on what is known"),
    "work": n("What is worked out"),
    "writes": n("What is noted down"),
}
_WORDS: dict[str, str] = {
    "as_found": n("as found"),
    "as_left": n("as left"),
    "pass": n("pass"),
    "fail": n("fail"),
    "simple": n("simple"),
    "guarded": n("guarded by the uncertainty"),
    "non_binary": n("with doubtful in between"),
    "safety_check": n("the electrical safety check"),
    "sheet.idle_watt": n("idle power on the model sheet"),
    "unit.set_for": n("what the unit is set for"),
    "set": n("the reading at the setting"),
}
# A yes or no that turned: what is said when it became yes, and when it became no.
FLAGS: dict[str, tuple[str, str]] = {
    "safety": (n("%s is a safety step now."), n("%s is no safety step any more.")),
    "mains": (
        n("%s now counts as touching mains or stored charge."),
        n("%s no longer counts as touching mains or stored charge."),
    ),
    "energised": (n("%s is worked with power on now."), n("%s is no longer worked with power on.")),
    "required": (n("%s must be done now."), n("%s may be left out now.")),
    "blocks": (n("%s must pass now."), n("%s need not pass any more.")),
    "other_person": (
        n("%s must be signed by another person now."),
        n("%s may be signed by the same person now."),
    ),
    "goes_on": (n("Work goes on after %s now."), n("Work stops after %s now.")),
    "names": (n("%s asks for names now."), n("%s asks for no names any more.")),
    "in_block": (
        n("%s is repeated together with the steps beside it now."),
        n("%s is no longer repeated together with the steps beside it."),
    ),
}
ON_WHEN_LEFT_OUT = frozenset({"required"})
TEXTS = frozenset(
    {"title", "text", "summary", "group", "waiting_text", "label", "reason", "caption", "name"}
)


def label(field: str) -> str:
    """What a field is called at the start of a sentence."""
    return _(LABELS[field]) if field in LABELS else field_in_words(field).capitalize()


def said(saying: Saying, field: str, value: Any, quantity: str | None = None) -> str:
    """A field's value as people say it."""
    if field in TEXTS:
        return f'"{saying.text(value)}"'
    if field in _SAID:
        return str(_SAID[field](saying, value))
    if field in ("low", "high", "nominal"):
        return saying.source(value, quantity)
    if isinstance(value, str) and value in _WORDS:
        return _(_WORDS[value])
    return saying.value(value)


def languages_changed(before: Any, after: Any) -> list[str]:
    """In which languages a text differs, where it is given in several."""
    old, new = (text if isinstance(text, dict) else {"en": text} for text in (before, after))
    return sorted(name for name in old.keys() | new.keys() if old.get(name) != new.get(name))


def _quantity(saying: Saying, value: Any) -> str:
    """What a reading measures; of a part it is how many are taken."""
    return quantity_in_words(value) if isinstance(value, str) else saying.source(value)


def _procedure(saying: Saying, value: dict[str, Any]) -> str:
    if "revision" not in value:
        return _("the newest revision of %s") % str(value["template"])
    named = {"number": value["revision"], "template": value["template"]}
    return _("revision %(number)s of %(template)s") % named


def _meters(saying: Saying, kinds: list[str]) -> str:
    known = dict(MeterKind.choices)
    return ", ".join(str(known.get(kind, kind)) for kind in kinds) or _("any")


def _condition(saying: Saying, value: dict[str, Any]) -> str:
    """`when` of a step asks about choices, everywhere else about facts."""
    ((word, inner),) = value.items()
    while word in ("and", "not"):
        ((word, inner),) = (inner[0] if word == "and" else inner).items()
    asks_a_step = word in ("eq", "in") and inner[0] in saying.steps
    return saying.chosen(value) if asks_a_step else saying.condition(value)


def _rows(saying: Saying, value: Any) -> str:
    """Rows of a ramp are an expression; those of a table a list or a loop."""
    if isinstance(value, list):
        return _texts(saying, [row["title"] for row in value])
    return saying.loop(value) if "over" in value else saying.source(value)


def _variants(saying: Saying, value: dict[str, Any]) -> str:
    return _('hanging on "%s"') % '", "'.join(map(saying.step, value["keys"]))


def _texts(saying: Saying, rows: Any) -> str:
    return "; ".join(f'"{in_language(row, saying.language)}"' for row in rows)


_SAID: dict[str, Say] = {
    "band": lambda saying, value: saying.band(value),
    "kind": lambda saying, value: kind_in_words(value),
    "quantity": _quantity,
    "phase": lambda saying, value: _(_WORDS[value]) if value else _("neither"),
    "meter_kinds": _meters,
    "role": lambda saying, value: str(Role(value).label),
    "part": lambda saying, value: f'"{saying.parts.get(value, value)}"',
    "work": lambda saying, value: f'"{saying.work.get(value, value)}"',
    "procedure": _procedure,
    "repeat": lambda saying, value: saying.loop(value),
    "for_each": lambda saying, value: saying.loop(value),
    "over": lambda saying, value: saying.path(value),
    "from": lambda saying, value: saying.path(value),
    "when": _condition,
    "when_fact": lambda saying, value: saying.condition(value),
    "seconds": lambda saying, value: saying.source(value, "time"),
    "dwell_seconds": lambda saying, value: saying.source(value, "time"),
    "points": lambda saying, value: saying.source(value),
    "verdict": lambda saying, value: _(_WORDS[value]) if value else _("no verdict"),
    "minutes": lambda saying, value: _("%s minutes") % value,
    "block_when_fact": lambda saying, value: saying.condition(value),
    "gates": lambda saying, value: _texts(saying, [gate["reason"] for gate in value]),
    "rows": _rows,
    "choices": lambda saying, value: _texts(saying, [choice["label"] for choice in value]),
    "columns": lambda saying, value: _texts(saying, [column["title"] for column in value]),
    "variants": lambda saying, value: (
        _('hanging on "%s"') % '", "'.join(map(saying.step, value["keys"]))
    ),
    "ramp": lambda saying, value: _texts(saying, [c["title"] for c in value["columns"]]),
    "table": lambda saying, value: _texts(saying, [c["title"] for c in value["columns"]]),
    "pictures": lambda saying, value: _("%d pictures") % len(value),
    "given": lambda saying, value: saying.source({"object": value}),
    "limits": lambda saying, value: "; ".join(map(saying.band, value.values())),
    "cautions": _texts,
    "stop_rules": _texts,
}
