"""The test report: what was found, what was done, what was measured, and what was not."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.billing.amounts import money_text
from shop.billing.selectors import agreed_estimate, part_lines
from shop.core.selectors import the_shop
from shop.documents.marks import photo_picture
from shop.documents.models import Document
from shop.documents.papers.common import (
    Context,
    country_name,
    hazard_words,
    heading,
    local_time,
    short_time,
    supply_text,
)
from shop.documents.papers.report.bench_log import bench_log, findings
from shop.documents.papers.report.chain import amendments, heads
from shop.documents.papers.report.entries import standing_entries
from shop.documents.papers.report.meters import meters_used, rules_used
from shop.documents.papers.report.sheets import worksheet_facts
from shop.documents.papers.report.verdicts import verdict_mark
from shop.documents.papers.report.work import worked_out
from shop.jobs.models import Worksheet
from shop.repairs.models import Repair

MOST_PHOTOS = 24


def context(document: Document) -> Context:
    repair = document.repair
    assert repair is not None  # noqa: S101  # the kinds of a repair are issued with one
    sheets = list(repair.worksheets.select_related("revision__template").order_by("opened_at"))
    entries = standing_entries(repair, sheets)
    worked = [worksheet_facts(sheet, entries) for sheet in sheets]
    return {
        **heading(document),
        "item": _item(repair),
        "request": _request(repair),
        "findings": findings(entries),
        "bench_log": bench_log(entries),
        "worksheets": worked,
        "not_tested": [line for sheet in worked for line in sheet["not_tested"]],
        "parts": part_lines(repair),
        "meters": meters_used(entries),
        "rules": rules_used(entries),
        "work": worked_out(sheets),
        "cautions": _cautions(repair, worked),
        "amendments": amendments(repair),
        "heads": heads(repair, sheets),
        **_photos(repair),
        "statement": _statement(sheets),
        "zone": the_shop().time_zone,
    }


def _statement(sheets: list[Worksheet]) -> Context:
    """The one line that says what all of it comes to. A stopped worksheet proves nothing."""
    stages = {sheet.stage for sheet in sheets} - {Worksheet.Stage.STOPPED}
    if stages == {Worksheet.Stage.PASSED}:
        words = _("Every worksheet that was worked to its end has passed.")
        return {"words": words, "verdict": verdict_mark("pass")}
    words = _("Not everything has passed: see below what failed or is still open.")
    return {
        "words": words,
        "verdict": verdict_mark("fail" if Worksheet.Stage.FAILED in stages else None),
    }


def _item(repair: Repair) -> list[tuple[str, str]]:
    unit = repair.unit
    pieces = ", ".join(unit.pieces.values_list("name", flat=True).order_by("name"))
    rows = [
        (_("Make and model"), f"{unit.make} {unit.model}"),
        (_("Serial"), unit.serial or _("not readable")),
        (_("Tag"), unit.code),
        (_("Came with"), pieces or _("nothing but the unit itself")),
        (_("Condition at receipt"), repair.damage or _("no damage seen at the counter")),
        (_("Set for, as found"), supply_text(repair.set_for_volt, repair.set_for_hz)),
        (_("Set for, as left"), supply_text(unit.set_for_volt, unit.set_for_hz)),
    ]
    use_at = supply_text(repair.use_at_volt, repair.use_at_hz)
    return [*rows, (_("To be used at"), f"{use_at} ({country_name(repair.use_at_country)})")]


def _request(repair: Repair) -> list[tuple[str, str]]:
    rows = [
        (_("Repair"), str(repair.number)),
        (_("Booked in"), local_time(repair.booked_in_at)),
        (_("Complaint"), repair.complaint),
        (_("Visible changes"), str(repair.get_visible_changes_display())),
        (_("Stored sounds"), str(repair.get_sounds_display())),
    ]
    return [*rows, (_("Go-ahead"), _go_ahead(repair))]


def _go_ahead(repair: Repair) -> str:
    estimate, currency = agreed_estimate(repair), the_shop().currency
    if estimate and estimate.answered_at:
        return _("%(amount)s agreed %(how)s, %(at)s") % {
            "amount": money_text(estimate.total_minor, currency),
            "how": estimate.answered_how,
            "at": local_time(estimate.answered_at),
        }
    return _("up to %(amount)s incl. tax without asking") % {
        "amount": money_text(repair.spending_limit_minor, currency)
    }


def _cautions(repair: Repair, worked: list[Context]) -> list[str]:
    sheet = repair.unit.model_sheet
    hazards = hazard_words(sheet.hazards if sheet else [])
    found = [_("In this unit: %s.") % ", ".join(hazards)] if hazards else []
    found += [caution for worksheet in worked for caution in worksheet["cautions"]]
    found.append(
        _("Inside there may be dangerous voltages, also when unplugged. Work inside is for people "
          "who are licensed for it; the rules of the place where it is used come first.")
    )  # fmt: skip
    return list(dict.fromkeys(found))


def _photos(repair: Repair) -> Context:
    rows = repair.photos.order_by("taken_at", "id")[:MOST_PHOTOS]
    shown = [
        {
            "picture": picture,
            "caption": row.caption,
            "at": short_time(row.taken_at),
            "alt": row.caption or _("Photo of the unit"),
        }
        for row in rows
        if (picture := photo_picture(row.sha256))
    ]
    return {"photos": shown, "photos_left_out": repair.photos.count() - len(shown)}
