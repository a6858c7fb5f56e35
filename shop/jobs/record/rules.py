"""May this be recorded here? Each rule raises its refusal."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from shop.benches.models import Meter
from shop.benches.selectors import calibration_state
from shop.core.models import Person, Role
from shop.jobs.errors import (
    BadEntry,
    MeterOverdue,
    NotYourLogin,
    RepairClosed,
    SignOffOnlineOnly,
    SkipNotAllowed,
    StepLocked,
    UnknownStep,
    WorksheetStopped,
    WrongReplaces,
)
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.ledger import Ledger
from shop.jobs.record.state import SETTLED_BY, Step, is_grid, step_at
from shop.jobs.record.wire import EntryIn, SkipValue, TimerValue
from shop.repairs.stages import CLOSED

# What may be added to a worksheet or the bench log without a step, at any time.
FREE = frozenset({"note", "photo", "finding"})
ANYWHERE = FREE | {"reading", "part"}  # in the bench log
SIDE_BY_SIDE = frozenset({"note", "photo", "finding"})
CLOCK_SLACK_SECONDS = 2


def require_may_add(ledger: Ledger, entry: EntryIn, person: Person) -> None:
    """Rules that hold for every entry."""
    if entry.made_by != person.id:
        raise NotYourLogin()
    if entry.kind == "sign_off":
        raise SignOffOnlineOnly()
    require_open(ledger)
    if ledger.repair.id != entry.repair:
        raise BadEntry(_("The worksheet belongs to another repair."))
    if (ledger.worksheet.id if ledger.worksheet else None) != entry.worksheet:
        raise BadEntry(_("record: it is another kind of record."))
    if ledger.worksheet and person.role == Role.DESK:
        raise BadEntry(_("Worksheets are worked at the bench."))
    require_replaces(ledger, entry)


def require_open(ledger: Ledger) -> None:
    """Raises RepairClosed or WorksheetStopped."""
    if ledger.repair.stage in CLOSED:
        raise RepairClosed()
    if ledger.worksheet and ledger.worksheet.stage == Worksheet.Stage.STOPPED:
        raise WorksheetStopped(ledger.worksheet.stop_reason)


def require_replaces(ledger: Ledger, entry: EntryIn) -> None:
    """A correction names what stands now on the same step, and why. Raises WrongReplaces."""
    if entry.replaces is None:
        return
    before = ledger.by_id.get(entry.replaces)
    if before is None or before.id in ledger.replaced:
        raise WrongReplaces()
    if before.step != (entry.step or "") or not _is_family(before.kind, entry.kind):
        raise WrongReplaces(_("A correction must be of the same step and kind."))
    if not _stands_last(ledger, before):
        raise WrongReplaces()
    if not entry.reason.strip():
        raise BadEntry(_("reason: say why it is corrected"))


def _is_family(before: str, now: str) -> bool:
    """The same kind; or a skip that is undone, or done after all."""
    return before == now or ("skip" in (before, now) and "sign_off" not in (before, now))


def _stands_last(ledger: Ledger, before: Entry) -> bool:
    if not before.step or before.kind in SIDE_BY_SIDE:
        return True
    return ledger.standing[before.step][-1].id == before.id


def step_for(ledger: Ledger, entry: EntryIn) -> Step | None:
    """The step of an entry as it reads now; None without a step.

    Raises UnknownStep, StepLocked, SkipNotAllowed, BadEntry (a kind that does not fit).
    """
    if not entry.step:
        _require_free(ledger, entry)
        return None
    found = step_at(ledger.pack, ledger.standing, entry.step) if ledger.pack else None
    if found is None:
        raise UnknownStep()
    step, locked_by = found
    _require_fitting_kind(step, entry)
    if locked_by:
        raise StepLocked(_("First comes: %s") % _title(ledger.pack, locked_by))
    return step


def _require_free(ledger: Ledger, entry: EntryIn) -> None:
    allowed = FREE if ledger.worksheet else ANYWHERE
    if entry.kind not in allowed:
        raise UnknownStep(_("This kind of entry needs a step."))


def _require_fitting_kind(step: Step, entry: EntryIn) -> None:
    is_cell = "/" in (entry.step or "")
    if is_cell and not is_grid(step):
        raise UnknownStep()
    if entry.kind == "skip":
        if step["safety"] or step["kind"] == "sign_off" or is_cell:
            raise SkipNotAllowed()
    elif entry.kind != SETTLED_BY[step["kind"]] or (is_grid(step) and not is_cell):
        raise BadEntry(_("kind: this step asks for something else"))


def _title(pack: dict[str, Any] | None, name: str) -> str:
    steps = pack["steps"] if pack else []
    return next((str(step["title"]) for step in steps if step["id"] == name), name)


def choice_verdict(step: Step, choice: str) -> str:
    """The verdict that comes with a choice. Raises BadEntry for one the step does not offer."""
    for offered in step["choices"]:
        if offered["key"] == choice:
            return offered["verdict"] or ""
    raise BadEntry(_("value.choice: the step offers no such choice"))


def require_waited(step: Step, value: TimerValue) -> None:
    """A timer has run as long as the step asks for. Raises BadEntry."""
    if value.ended_at is None or not step["seconds"]:
        return
    ran = (value.ended_at - value.started_at).total_seconds()
    if ran + CLOCK_SLACK_SECONDS < step["seconds"]:
        raise BadEntry(_("value.ended_at: the time was not over"))


def require_reason(value: SkipValue) -> None:
    if not value.reason.strip():
        raise BadEntry(_("value.reason: say why it is skipped"))


def require_in_date(meter: Meter, quantity: str, day: date, ledger: Ledger) -> None:
    """The shop may refuse a quantity read on a meter that is overdue. Raises MeterOverdue.

    What the pack says holds, since the phone went by it without network.
    """
    forbidden = (ledger.pack or {}).get("overdue_forbidden", [])
    if quantity in forbidden and calibration_state(meter, day) == "overdue":
        words = _("%(meter)s was due for calibration on %(day)s: read this with another meter.")
        raise MeterOverdue(words % {"meter": meter.name, "day": meter.calibration_due_on})
