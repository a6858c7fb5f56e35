"""Worked repairs for papers and messages: a small worksheet with its entries, made by hand."""

import orjson
from django.utils import timezone

from shop.benches.models import Meter
from shop.calc.codes import Kind, make_code
from shop.calc.quantities import RULES, Quantity
from shop.core.ids import new_id
from shop.jobs.models import Entry, JobTemplate, RecordHead, Revision, Worksheet
from tests.factories.core import NOW

UNIT_CODE = make_code(Kind.UNIT, "7K3M9Q")
PIECE_CODE = make_code(Kind.PIECE, "00A1B2")
FUSE = {
    "title": "Fuse for 120 V",
    "outcome": "ok",
    "text": "T160mAL250V, from T80mAL250V at 230 V.",
    "value": {
        "mark": "T160mAL250V",
        "from_maker": False,
        "rated_volt": 250,
        "current_text": "160 mA",
        "characteristic": "T",
    },
    "working": {
        "lines": [{"label": "scaled", "formula": "80 mA × 230 V / 120 V", "result": "153.3 mA"}],
        "sources": [
            {"text": "A unit fused 80 mA on 230 V takes 160 mA", "status": "common_practice"},
            {"text": "R10 series", "status": "from_memory", "at": "IEC 60127"},
        ],
        "cautions": ["A proposal for a competent person: the maker's marking wins."],
        "disagreements": ["One handbook rounds down."],
    },
}

STEPS = [
    {"id": "fuse_seen", "kind": "look", "title": "Fuse fitted", "phase": "as_found",
     "choices": [{"key": "wrong", "label": "wrong value", "verdict": "fail"}]},
    {"id": "hum", "kind": "reading", "title": "Hum at the output", "phase": "as_found"},
    {"id": "iso", "kind": "reading", "title": "Insulation", "phase": "as_left"},
    {"id": "rail", "kind": "reading", "title": "Rail +15 V", "phase": "as_left"},
    {"id": "dust", "kind": "look", "title": "Dust removed", "phase": None,
     "choices": [{"key": "yes", "label": "yes", "verdict": "pass"}]},
    {"id": "rear", "kind": "look", "title": "Rear outlet", "phase": None, "choices": []},
    {"id": "ramp", "kind": "ramp", "title": "Ramp", "phase": "as_left",
     "rows": [{"id": "r25", "set_percent": 25}, {"id": "r50", "set_percent": 50}],
     "columns": [{"key": "volt", "title": "Unit volts"}, {"key": "amp", "title": "Current"}]},
    {"id": "signed", "kind": "sign_off", "title": "Checked by a second person", "phase": None},
]  # fmt: skip


def meter():
    return Meter.objects.create(
        code="M0000010", name="Bench meter 1", serial="4711", calibration_due_on="2026-12-31"
    )


def pack(**changes):
    made = {
        "supplies": {"set_for": None, "use_at": {"volt": 120, "hz": 60}, "bench": {}},
        "work": {"fuse": FUSE},
        "steps": STEPS,
        "cautions": ["Unplug before opening."],
    }
    return made | changes


def worksheet(repair, *, person, title="Mains conversion", slug="mains-conversion", **changes):
    template, _ = JobTemplate.objects.get_or_create(slug=slug, defaults={"title": title})
    revision, _ = Revision.objects.get_or_create(
        template=template, number=3, defaults={"body": {}, "published_at": NOW}
    )
    fields = {"stage": "passed", "opened_by": person, "opened_at": NOW, "closed_at": NOW}
    kept = orjson.dumps(changes.pop("pack", pack()))
    return Worksheet.objects.create(
        id=new_id(), repair=repair, revision=revision, pack=kept, pack_sha256="0" * 64,
        **(fields | changes),
    )  # fmt: skip


def entry(repair, kind, *, person, sheet=None, step="", **fields):
    record = sheet.id if sheet else repair.id
    head, _ = RecordHead.objects.get_or_create(record=record)
    head.last_seq, head.last_hash = head.last_seq + 1, f"{head.last_seq + 1:064x}"
    head.save()
    return Entry.objects.create(
        id=new_id(), record=record, seq=head.last_seq, repair=repair, worksheet=sheet, kind=kind,
        step=step, made_by=person, made_at=NOW, received_at=timezone.now(), hash=head.last_hash,
        **fields,
    )  # fmt: skip


def reading(repair, step, text, quantity, *, verdict="pass", low=None, high=None, **more):
    judged = {"low": low, "high": high, "rule": more.pop("rule", "simple"), "verdict": verdict}
    judged["expanded_uncertainty"] = more.pop("spread", None)
    value = {"state": "measured", "as_typed": text, "judged": judged}
    return entry(
        repair, "reading", step=step, value=value, value_text=text, verdict=verdict,
        unit=RULES[Quantity(quantity)].unit, **more,
    )  # fmt: skip


def worked(repair, *, person):
    """A passed worksheet with one of everything a report tells."""
    sheet, used = worksheet(repair, person=person), meter()
    of = {"person": person, "sheet": sheet}
    entry(repair, "choice", step="fuse_seen", value={"choice": "wrong"}, **of)
    reading(repair, "hum", "0.0042", "voltage_ac", verdict="not_judged", meter=used, **of)
    first = reading(repair, "iso", "1", "resistance", verdict="fail", low=1e6, meter=used, **of)
    reading(
        repair, "iso", "12000000", "resistance", low=1e6, rule="guarded", spread=240000.0,
        meter=used, replaces=first, reason="Probe had slipped.",
        meter_state={"name": "Bench meter 1", "due_on": "2026-12-31"}, **of,
    )  # fmt: skip
    reading(repair, "rail", "15.02", "voltage_dc", low=14.5, high=15.5, meter=used, **of)
    reading(
        repair, "ramp/r25/volt", "57.1", "voltage_ac", verdict="borderline", low=50, high=57, **of
    )
    reading(repair, "ramp/r25/amp", "0.16", "current_ac", high=0.2, **of)
    entry(repair, "choice", step="dust", value={"choice": "yes"}, verdict="pass", **of)
    entry(repair, "skip", step="rear", value={"how": "not_applicable", "reason": "None."}, **of)
    entry(repair, "sign_off", step="signed", value={"role": "tech"}, **of)
    entry(
        repair, "finding", person=person, value={"finding": "cause", "text": "C14 had dried out."}
    )
    return sheet
