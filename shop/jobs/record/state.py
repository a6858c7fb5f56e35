"""The state of a worksheet from its pack and what stands: the same rules as on the phone.

A step is settled when it has what its kind asks for. An unsettled safety step locks everything
after it; a safety step whose answer failed is not settled, since what it was to make safe is not.
Readings as found never fail a worksheet. A signature settles its step only as long as nothing on
the steps before it was recorded or corrected after it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import msgspec

from shop.jobs.format.bench_conditions import holds
from shop.jobs.models import Entry

Step = dict[str, Any]
Standing = dict[str, list[Entry]]

SETTLED_BY = {
    "caution": "acknowledge", "instruction": "acknowledge", "computed": "acknowledge",
    "look": "choice", "reading": "reading", "photo": "photo", "take_part": "part",
    "timer": "timer", "note": "note", "sign_off": "sign_off", "ramp": "reading",
    "table": "reading",
}  # fmt: skip


def is_grid(step: Step) -> bool:
    """Whether its readings stand in rows and columns, each cell with an id of its own."""
    return step["kind"] in ("ramp", "table")


# What changes nothing that was signed: words, pictures and other signatures.
WORDS_ONLY = frozenset({"note", "photo", "finding", "sign_off"})


class StepState(msgspec.Struct, frozen=True):
    """One visible step: `locked_by` is the safety step that has to come first."""

    step: Step
    settled: bool
    locked_by: str | None
    verdict: str | None
    skipped: bool


def standing_of(entries: Iterable[Entry]) -> Standing:
    """Entries that no correction has replaced, by step, in order."""
    entries = list(entries)
    replaced = {entry.replaces_id for entry in entries}
    found: Standing = {}
    for entry in entries:
        if entry.step and entry.id not in replaced:
            found.setdefault(entry.step, []).append(entry)
    return found


def choices_of(standing: Standing) -> dict[str, str | None]:
    """The standing choice of each look step."""
    return {
        step: str(entries[-1].value["choice"])
        for step, entries in standing.items()
        if entries and entries[-1].kind == Entry.Kind.CHOICE
    }


def with_variant(step: Step, choices: dict[str, str | None]) -> Step:
    """The step as it reads for the choices made."""
    variants = step.get("variants")
    if not variants:
        return step
    chosen = [choices.get(key) for key in variants["keys"]]
    for count in range(len(chosen), 0, -1):
        names = [name for name in chosen[:count] if name is not None]
        if len(names) == count and (case := variants["cases"].get("|".join(names))):
            return {**step, **case, "variants": None}
    return step


def visible_steps(pack: dict[str, Any], choices: dict[str, str | None]) -> Iterator[Step]:
    for step in pack["steps"]:
        if holds(step["when"], choices):
            yield with_variant(step, choices)


def states(pack: dict[str, Any], standing: Standing) -> Iterator[StepState]:
    """The state of every visible step, in order."""
    locked_by: str | None = None
    newest = 0  # of what was recorded on the steps so far
    for step in visible_steps(pack, choices_of(standing)):
        entries = entries_on(step, standing)
        verdict = _verdict(step, entries)
        settled = _is_settled(step, entries, standing, verdict)
        settled = settled and not _is_signed_too_early(step, entries, newest)
        newest = max([newest, *(e.seq for e in entries if e.kind not in WORDS_ONLY)])
        skipped = bool(entries) and entries[-1].kind == Entry.Kind.SKIP
        yield StepState(step, settled, locked_by, verdict, skipped)
        if _is_lock(step, settled):
            locked_by = locked_by or step["id"]


def step_at(pack: dict[str, Any], standing: Standing, name: str) -> tuple[Step, str | None] | None:
    """(step, what locks it) for the id of a step or of a grid's cell; None if there is none.

    A step that the choices hide is found as well: what was recorded on it offline is not lost.
    """
    base = name.partition("/")[0]
    found = next((step for step in pack["steps"] if step["id"] == base), None)
    if found is None:
        return None
    before = {step["id"] for step in pack["steps"][: pack["steps"].index(found)]}
    locked_by = None
    for state in states(pack, standing):
        if state.step["id"] == base:
            return state.step, state.locked_by
        if state.step["id"] in before and _is_lock(state.step, state.settled):
            locked_by = locked_by or state.step["id"]
    return found, locked_by


def _is_lock(step: Step, settled: bool) -> bool:
    return bool(step["safety"] and step["required"] and not settled)


def cells_of(step: Step) -> list[tuple[str, Step, int]]:
    """(id of the cell, its column, its row) of a grid."""
    return [
        (f"{step['id']}/{row['id']}/{column['key']}", column, index)
        for index, row in enumerate(step.get("rows", []))
        for column in step.get("columns", [])
    ]


def entries_on(step: Step, standing: Standing) -> list[Entry]:
    """What stands on a step, of a grid also in its cells, the last recorded last."""
    own = standing.get(step["id"], [])
    if not is_grid(step):
        return own
    cells = [e for cell, _c, _r in cells_of(step) for e in standing.get(cell, [])]
    return sorted(cells + own, key=lambda entry: entry.seq)


def _verdict(step: Step, entries: list[Entry]) -> str | None:
    """The verdict that stands: the worst of a grid, else that of the last entry."""
    if step["kind"] == "look":
        return (entries[-1].verdict or None) if entries else None
    # Of a step, and of each cell of a grid, the last reading counts.
    last = {entry.step: entry for entry in entries if entry.kind == Entry.Kind.READING}
    verdicts = {entry.verdict or "not_judged" for entry in last.values()}
    worst = ("fail", "meter_not_good_enough", "borderline", "not_judged", "pass")
    return next((verdict for verdict in worst if verdict in verdicts), None)


def _is_settled(step: Step, entries: list[Entry], standing: Standing, verdict: str | None) -> bool:
    if entries and entries[-1].kind == Entry.Kind.SKIP and not step["safety"]:
        return True
    if is_grid(step):
        needed = [cell for cell in cells_of(step) if cell[1]["required"]]
        return all(_is_cell_settled(step, *cell, standing) for cell in needed)
    if step["kind"] == "reading":
        return bool(entries) and entries[-1].kind == "reading" and not _blocks(step, verdict)
    if step["kind"] == "timer":
        return any(e.kind == "timer" and e.value.get("ended_at") for e in entries)
    if _locks_on(step, entries, verdict):
        return False
    return any(entry.kind == SETTLED_BY[step["kind"]] for entry in entries)


def _is_signed_too_early(step: Step, entries: list[Entry], newest: int) -> bool:
    """A signature stands for what its signer could see: what came in since asks for another."""
    return step["kind"] == "sign_off" and bool(entries) and entries[-1].seq < newest


def _is_cell_settled(step: Step, cell: str, column: Step, row: int, standing: Standing) -> bool:
    found = standing.get(cell)
    if not found:
        return False
    has_limits = column["band"] is not None and column["band"]["rows"][row] != [None, None]
    return not (step.get("blocks") and has_limits) or found[-1].verdict == "pass"


def _locks_on(step: Step, entries: list[Entry], verdict: str | None) -> bool:
    """A failed safety look: nothing comes after it, unless its choice says that work goes on."""
    if step["kind"] != "look" or not step["safety"] or verdict != "fail":
        return False
    chosen = entries[-1].value.get("choice")
    return not any(c["key"] == chosen and c.get("goes_on") for c in step["choices"])


def _blocks(step: Step, verdict: str | None) -> bool:
    """A reading without limits has nothing to be wrong about."""
    return bool(step.get("blocks")) and step.get("band") is not None and verdict != "pass"


def stage_of(pack: dict[str, Any], standing: Standing) -> str:
    """`passed`, `failed` or `open`."""
    found = list(states(pack, standing))
    needed = [state for state in found if state.step["required"]]
    if not all(state.settled or state.verdict == "fail" for state in needed):
        return "open"
    if failed_states(found):
        return "failed"
    return "passed" if all(state.settled for state in needed) else "open"


def failed_states(found: Iterable[StepState]) -> list[StepState]:
    """Those that fail a worksheet: readings as found never do."""
    return [
        state
        for state in found
        if state.verdict == "fail" and not state.skipped and state.step["phase"] != "as_found"
    ]
