"""What is asked before a worksheet starts: by a template and by the procedures worked in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import Quantity
from shop.calc.readings import parse_reading
from shop.calc.working import BadInput
from shop.core.errors import BadField
from shop.jobs.errors import FactsMissing
from shop.jobs.format.fact_conditions import paths_in
from shop.jobs.format.keeping import require_plain
from shop.jobs.format.revisions import FindProcedure, procedure_steps
from shop.jobs.packing.procedures import procedure_of
from shop.jobs.packing.values import NotKnown, Values

Question = dict[str, Any]
MOST_NAMES = 64
LONGEST_NAME = 40


def questions_of(template: dict[str, Any], find: FindProcedure) -> list[Question]:
    """Everything asked, each key once: also what the procedures ask. Raises NoSuchTemplate."""
    merged: dict[str, Question] = {}
    for fact in _facts(template, find):
        key = fact["key"]
        merged[key] = _both(merged[key], fact) if key in merged else fact
    return list(merged.values())


def _facts(template: dict[str, Any], find: FindProcedure) -> Iterator[Question]:
    yield from template.get("facts", [])
    for step in procedure_steps(template):
        for fact in _facts(procedure_of(step, find).body, find):
            yield _if_worked(fact, step.get("when_fact"))


def _if_worked(fact: Question, when_fact: dict[str, Any] | None) -> Question:
    """Only asked where the procedure is worked; asked anyway where work must say that first."""
    if when_fact is None or any(path.startswith("work.") for path in paths_in(when_fact)):
        return fact
    inner = fact.get("when")
    return {**fact, "when": {"and": [when_fact, inner]} if inner else when_fact}


def _both(one: Question, other: Question) -> Question:
    """The same question asked twice: asked where either asks it, needed where either needs it."""
    needed = one.get("required", False) or other.get("required", False)
    merged = {**other, **one, "required": needed}
    merged.pop("when", None)
    if "when" in one and "when" in other:
        merged["when"] = {"or": [one["when"], other["when"]]}
    return merged


def asked_answers(questions: list[Question], sent: dict[str, Any]) -> dict[str, Any]:
    """Answers to what is asked, checked against choices and quantities. Raises BadField."""
    asked = {question["key"]: question for question in questions}
    require_plain(sent, "facts")
    for key in sent.keys() - asked.keys():
        raise BadField(f"facts.{key}", _("This is not asked."), "unknown")
    return {key: _answer(asked[key], answer) for key, answer in sent.items() if answer is not None}


def _answer(question: Question, answer: Any) -> Any:
    field = f"facts.{question['key']}"
    if "choices" in question:
        return _chosen(question["choices"], answer, field)
    if "names" in question:
        return _names(answer, field)
    try:
        reading = parse_reading(str(answer), Quantity(question["quantity"]), field)
    except BadInput as bad:
        raise BadField(field, bad.reason, bad.code) from bad
    if reading.si is None:
        raise BadField(field, _("A number is needed here."), "not_a_number")
    is_whole = question["quantity"] == Quantity.COUNT and reading.si.is_integer()
    return int(reading.si) if is_whole else reading.si  # calculators take counts as whole numbers


def _chosen(choices: list[dict[str, Any]], answer: Any, field: str) -> Any:
    for choice in choices:
        if choice["key"] == answer:
            return choice.get("value", answer)
    raise BadField(field, _("This is none of the choices."), "not_a_choice")


def _names(answer: Any, field: str) -> list[dict[str, str]]:
    """Names typed with commas between, as rows with a name."""
    if not isinstance(answer, str):
        raise BadField(field, _("Names are typed with commas between."), "not_text")
    names = [name for part in answer.split(",") if (name := part.strip())]
    if not names:
        raise BadField(field, _("Type at least one name."), "blank")
    if len(names) > MOST_NAMES or max(map(len, names)) > LONGEST_NAME:
        reason = _("At most %(many)d names of at most %(long)d characters.")
        words = reason % {"many": MOST_NAMES, "long": LONGEST_NAME}
        raise BadField(field, words, "too_long")
    if doubled := [name for name in names if names.count(name) > 1]:
        raise BadField(field, _("%s stands twice.") % doubled[0], "twice")
    return [{"name": name} for name in names]


def ask(questions: list[Question], values: Values, sent: dict[str, Any]) -> dict[str, Any]:
    """What was asked: as answered, else from what is already known. Raises FactsMissing."""
    asked = values.facts["asked"]  # filled as we go, so that later questions may hang on earlier
    missing = []
    for question in questions:
        key = question["key"]
        if not values.holds(question.get("when")):
            continue
        if (answer := sent.get(key, _known(values, question))) is not None:
            asked[key] = answer
        elif question.get("required", False):
            missing.append((f"facts.{key}", values.text(question["title"])))
    if missing:
        raise FactsMissing(missing)
    return dict(asked)


def _known(values: Values, question: Question) -> Any:
    try:
        return values.get(question["from"]) if "from" in question else None
    except NotKnown:
        return None
