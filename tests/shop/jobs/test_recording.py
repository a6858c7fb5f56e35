"""What phones bring is kept once, judged again, chained, or refused with a reason."""

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shop.core.errors import BadField
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.core.services import DeviceRevoked
from shop.jobs.models import Entry, Worksheet
from shop.jobs.selectors import effective_entries, first_break_of
from shop.jobs.services import apply_operations, stop_worksheet
from shop.stock.models import Move
from tests.factories.core import NOW, DeviceFactory, PersonFactory
from tests.factories.jobs import (
    MeterFactory,
    Phone,
    caution,
    correcting,
    look,
    on_the_bench,
    reading,
    started,
    template,
)
from tests.factories.stock import StockLevelFactory

pytestmark = pytest.mark.django_db


def sync(person, *operations):
    return apply_operations(person=person, device_id=None, operations=operations)


def outcomes(results):
    return [result.code or result.outcome for result in results]


@pytest.fixture
def sheet(anna):
    return started(template(), by=anna)


@pytest.fixture
def phone(anna, sheet):
    return Phone(anna, sheet)


def test_a_worksheet_worked_to_the_end_passes_and_its_chain_holds(anna, sheet, phone):
    operations = [phone.acknowledge(), phone.choose("cord", "sound"), phone.read("rail", "5.01")]

    results = sync(anna, *operations)

    assert [(r.outcome, r.seq) for r in results] == [("applied", 1), ("applied", 2), ("applied", 3)]
    sheet.refresh_from_db()
    assert sheet.stage == "passed"
    assert first_break_of(sheet.id) is None
    assert OutboxEvent.objects.filter(kind="jobs.worksheet_passed").count() == 1


def test_the_same_batch_again_changes_nothing(anna, sheet, phone):
    operations = [phone.acknowledge(), phone.choose("cord", "sound")]
    sync(anna, *operations)

    results = sync(anna, *operations)

    assert [(r.outcome, r.seq) for r in results] == [("repeated", 1), ("repeated", 2)]
    assert Entry.objects.count() == 2


def test_a_lost_answer_and_a_longer_batch_apply_only_what_is_new(anna, phone):
    first, second = phone.acknowledge(), phone.choose("cord", "sound")
    sync(anna, first)

    results = sync(anna, first, second)

    assert outcomes(results) == ["repeated", "applied"]


def test_the_same_id_with_other_content_is_refused(anna, phone):
    operation = phone.acknowledge()
    sync(anna, operation)
    operation["body"]["made_at"] = "2026-03-03T09:00:00Z"

    assert outcomes(sync(anna, operation)) == ["other_content"]


def test_an_id_known_from_another_record_is_refused(anna, sheet, phone):
    first = phone.acknowledge()
    sync(anna, first)
    stranger = Phone(anna, repair=sheet.repair).entry("note", text="hum at 100 Hz")
    stranger["id"] = stranger["body"]["id"] = first["id"]

    assert outcomes(sync(anna, stranger)) == ["other_content"]


def test_a_refused_operation_holds_back_its_own_record_and_not_the_rest(anna, sheet, phone):
    log = Phone(anna, repair=sheet.repair)
    operations = [
        phone.read("rail", "5"),  # locked by the caution
        phone.acknowledge(),
        log.entry("note", text="smells of burnt dust"),
    ]

    results = sync(anna, *operations)

    assert outcomes(results) == ["step_locked", "held_back", "applied"]
    assert Entry.objects.get().record == sheet.repair_id


def test_nothing_after_an_unsettled_safety_step_can_be_recorded(anna, sheet, phone):
    assert outcomes(sync(anna, phone.choose("cord", "sound"))) == ["step_locked"]
    assert not Entry.objects.exists()


def test_other_steps_go_in_any_order(anna, phone):
    operations = [phone.acknowledge(), phone.read("rail", "5"), phone.choose("cord", "sound")]

    assert outcomes(sync(anna, *operations)) == ["applied"] * 3


def test_somebody_elses_entry_waits_for_their_login(max, phone):
    assert outcomes(sync(max, phone.acknowledge())) == ["not_your_login"]


def test_a_revoked_phone_is_refused_as_a_whole(anna, phone):
    device = DeviceFactory(person=anna, revoked_at=NOW)

    with pytest.raises(DeviceRevoked):
        apply_operations(person=anna, device_id=device.id, operations=[phone.acknowledge()])

    assert not Entry.objects.exists()


def test_more_than_two_hundred_operations_are_refused(anna, phone):
    with pytest.raises(BadField):
        sync(anna, *[phone.acknowledge() for _ in range(201)])


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"version": 2}, "format_not_known"),
        ({"kind": "delete"}, "format_not_known"),
        ({"body": None}, "bad_entry"),
        ({"id": "11111111-1111-7111-8111-111111111111"}, "bad_entry"),
    ],
)
def test_what_is_no_operation_is_refused_with_its_reason(anna, phone, change, code):
    assert outcomes(sync(anna, {**phone.acknowledge(), **change})) == [code]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"step": "nowhere"}, "unknown_step"),
        ({"step": None}, "unknown_step"),
        ({"kind": "choice", "value": {"choice": "sound"}}, "bad_entry"),
        ({"kind": "sign_off", "value": {}}, "sign_off_online_only"),
        ({"kind": "skip", "value": {"how": "skipped", "reason": "hurry"}}, "skip_not_allowed"),
        ({"made_at": "yesterday"}, "bad_entry"),
        ({"made_at": "2026-03-02T09:00:00"}, "bad_entry"),  # no time zone
        ({"repair": str(new_id())}, "bad_entry"),
        ({"value": {"text": "a\x00b"}}, "bad_entry"),
        ({"value": {"text": "x" * 30_000}}, "bad_entry"),
        ({"replaces": str(new_id()), "reason": "slip"}, "wrong_replaces"),
    ],
)
def test_an_entry_that_does_not_fit_is_refused_with_its_reason(anna, phone, change, code):
    operation = phone.acknowledge()
    operation["body"] |= change

    assert outcomes(sync(anna, operation)) == [code]
    assert not Entry.objects.exists()


def test_an_unknown_worksheet_is_refused(anna, phone):
    operation = phone.acknowledge()
    operation["body"] |= dict.fromkeys(("record", "worksheet"), str(new_id()))

    assert outcomes(sync(anna, operation)) == ["bad_entry"]


def test_a_closed_repair_takes_no_entries(anna, sheet, phone):
    sheet.repair.stage = "handed_back"
    sheet.repair.save(update_fields=["stage"])

    assert outcomes(sync(anna, phone.acknowledge())) == ["repair_closed"]


def test_a_stopped_worksheet_takes_no_entries_and_stays_stopped(anna, sheet, phone):
    stop_worksheet(worksheet=sheet, reason="customer withdrew", by=anna)

    assert outcomes(sync(anna, phone.acknowledge())) == ["worksheet_stopped"]
    assert Worksheet.objects.get().stage == "stopped"


def test_stopping_needs_a_reason(anna, sheet):
    with pytest.raises(BadField):
        stop_worksheet(worksheet=sheet, reason="  ", by=anna)

    assert Worksheet.objects.get().stage == "open"


def test_the_servers_verdict_stands_and_the_phones_is_kept(anna, phone):
    wrong = phone.read("rail", "7", verdict="pass")

    sync(anna, phone.acknowledge(), wrong)

    entry = Entry.objects.get(id=wrong["id"])
    assert entry.verdict == "fail"
    assert entry.value["verdict"] == "pass"
    assert entry.value["judged"]["high"] == 5.25


def test_a_reading_is_kept_as_typed_as_exact_text_and_for_queries(anna, phone):
    operation = phone.read("rail", "5V01", "5.01")

    sync(anna, phone.acknowledge(), operation)

    entry = Entry.objects.get(id=operation["id"])
    assert (entry.value["as_typed"], entry.value_text, entry.value_si) == ("5V01", "5.01", 5.01)


@pytest.mark.parametrize(
    ("typed", "text"), [("5", "50"), ("five", "5"), ("1,234", "1.234"), ("5 A", "5")]
)
def test_what_reads_otherwise_here_is_refused(anna, phone, typed, text):
    assert outcomes(sync(anna, phone.acknowledge(), phone.read("rail", typed, text)))[1] == (
        "value_unreadable"
    )


def test_the_accuracy_of_the_meter_makes_a_reading_borderline_under_a_guarded_rule(anna):
    meter = MeterFactory()
    step = reading(rule="guarded")
    phone = Phone(anna, started(template(caution(), step), by=anna))
    # U = 2 (5.24 x 0.5 % + 2 x 1 mV) / sqrt(3) = 32.6 mV, so 5.24 V is inside 5.25 V but not
    # by as much. Computed by hand from ILAC-G8:09/2019, guard band w = U.
    operation = phone.read("rail", "5.24", meter=str(meter.id))

    sync(anna, phone.acknowledge(), operation)

    entry = Entry.objects.get(id=operation["id"])
    assert entry.verdict == "borderline"
    assert entry.value["judged"]["expanded_uncertainty"] == pytest.approx(0.03256, rel=1e-3)
    assert entry.meter_state["accuracy"]["percent"] == 0.5
    assert entry.meter_state["state"] == "ok"


def test_over_range_passes_a_lower_limit_only_when_the_range_reaches_it(anna):
    meter = MeterFactory()
    step = reading(
        "insulation", quantity="resistance", band={"low": 1e6, "high": None}, title="Insulation"
    )
    phone = Phone(anna, started(template(caution(), step), by=anna))
    value = {"value_text": None, "state": "over_range", "unit": "ohm"}
    known = phone.entry("reading", "insulation", as_typed="OL", **value, meter=str(meter.id))
    unknown = phone.entry("reading", "insulation", as_typed="OL", **value, meter=None)

    sync(anna, phone.acknowledge(), known, unknown)

    assert Entry.objects.get(id=known["id"]).verdict == "pass"
    assert Entry.objects.get(id=unknown["id"]).verdict == "not_judged"


def test_a_failed_reading_fails_the_worksheet_until_it_is_corrected(anna, sheet, phone):
    wrong = phone.read("rail", "7")
    sync(anna, phone.acknowledge(), phone.choose("cord", "sound"), wrong)
    assert Worksheet.objects.get().stage == "failed"

    sync(anna, correcting(phone.read("rail", "5"), wrong))

    assert Worksheet.objects.get().stage == "passed"
    ((entry, originals),) = [e for e in effective_entries(sheet.id) if e[0].step == "rail"]
    assert (entry.value_si, [o.value_si for o in originals]) == (5.0, [7.0])


def test_a_reading_as_found_never_fails_a_worksheet(anna):
    step = reading(phase="as_found", blocks=False)
    phone = Phone(anna, started(template(caution(), step), by=anna))

    sync(anna, phone.acknowledge(), phone.read("rail", "9"))

    assert Entry.objects.get(step="rail").verdict == "fail"
    assert Worksheet.objects.get().stage == "passed"


def test_a_correction_needs_a_reason(anna, phone):
    first = phone.acknowledge()
    sync(anna, first)

    assert outcomes(sync(anna, correcting(phone.acknowledge(), first, " "))) == ["bad_entry"]


def test_two_corrections_of_one_entry_do_not_both_stand(anna, phone):
    wrong = phone.choose("cord", "sound")
    sync(anna, phone.acknowledge(), wrong)
    first = correcting(phone.choose("cord", "damaged"), wrong)
    second = correcting(phone.choose("cord", "damaged"), wrong)

    assert outcomes(sync(anna, first)) == ["applied"]
    assert outcomes(sync(anna, second)) == ["wrong_replaces"]


def test_a_mistaken_skip_is_undone_by_a_reading(anna, sheet, phone):
    skipped = phone.skip("rail")
    sync(anna, phone.acknowledge(), phone.choose("cord", "sound"), skipped)
    assert Worksheet.objects.get().stage == "passed"

    results = sync(anna, correcting(phone.read("rail", "7"), skipped))

    assert outcomes(results) == ["applied"]
    assert Worksheet.objects.get().stage == "failed"


def test_a_step_that_choices_hide_does_not_count(anna):
    hidden = reading(when={"eq": ["cord", "damaged"]})
    phone = Phone(anna, started(template(caution(), look(), hidden), by=anna))

    sync(anna, phone.acknowledge(), phone.choose("cord", "sound"))

    assert Worksheet.objects.get().stage == "passed"


def test_a_band_along_another_reading_is_taken_where_that_reading_stands(anna):
    # Half of the supply within 10 %: at 200 V from 90 V to 110 V.
    along = {"along": "supply", "points": {"value": [[100, 45, 55], [300, 135, 165]]}}
    supply = reading("supply", quantity="voltage_ac", phase="as_found", band=None, blocks=False)
    del supply["band"]
    half = reading("half", quantity="voltage_ac", band=along)
    phone = Phone(anna, started(template(caution(), supply, half), by=anna))
    good = phone.read("half", "108")

    sync(anna, phone.acknowledge(), phone.read("supply", "200"), good)

    kept = Entry.objects.get(id=good["id"])
    assert (kept.verdict, kept.value["judged"]["low"]) == ("pass", 90.0)


RAMP = {
    "id": "ramp",
    "kind": "ramp",
    "title": "Ramp",
    "ramp": {
        "rows": {"value": [
            {"percent": 25, "volt": 50, "low": 0.1, "high": 0.3},
            {"percent": 50, "volt": 100, "low": 0.2, "high": 0.5},
        ]},
        "set_percent": "percent",
        "set_volt": "volt",
        "dwell_seconds": 60,
        "columns": [
            {"key": "set", "quantity": "voltage_ac", "title": "Set"},
            {"key": "amp", "quantity": "current_ac", "title": "Current", "along": "set",
             "low": "low", "high": "high"},
            {"key": "hum", "quantity": "voltage_ac", "title": "Ripple", "required": False},
        ],
    },
}  # fmt: skip


@pytest.mark.parametrize(
    ("set_to", "amps", "verdict", "limits"),
    [
        ("75", "0.39", "pass", (0.15, 0.4)),  # half-way between the rows
        ("75", "0.42", "fail", (0.15, 0.4)),
        ("50", "0.31", "fail", (0.1, 0.3)),
        ("130", "0.29", "pass", (0.1, 0.3)),  # beyond the rows: those of its own row
    ],
)
def test_a_cell_of_a_ramp_is_judged_along_the_measured_output(anna, set_to, amps, verdict, limits):
    phone = Phone(anna, started(template(caution(), RAMP), by=anna))
    cell = phone.read("ramp/r1/amp", amps, unit="A")

    sync(anna, phone.acknowledge(), phone.read("ramp/r1/set", set_to), cell)

    judged = Entry.objects.get(id=cell["id"]).value["judged"]
    assert judged["verdict"] == verdict
    assert (judged["low"], judged["high"]) == pytest.approx(limits)


def test_a_ramp_is_settled_without_its_optional_column_and_refuses_cells_it_has_not(anna):
    phone = Phone(anna, started(template(caution(), RAMP), by=anna))
    cells = [
        reading
        for row, volts, amps in (("r1", "50", "0.2"), ("r2", "100", "0.4"))
        for reading in (
            phone.read(f"ramp/{row}/set", volts),
            phone.read(f"ramp/{row}/amp", amps, unit="A"),
        )
    ]

    assert outcomes(sync(anna, phone.acknowledge(), *cells)) == ["applied"] * 5
    assert Worksheet.objects.get().stage == "passed"
    assert outcomes(sync(anna, phone.read("ramp/r9/amp", "1", unit="A"))) == ["unknown_step"]
    assert outcomes(sync(anna, phone.skip("ramp/r1/hum"))) == ["skip_not_allowed"]


def test_a_timer_that_ended_too_early_is_refused(anna):
    wait = {"id": "wait", "kind": "timer", "title": "Wait", "seconds": 60, "safety": True}
    phone = Phone(anna, started(template(caution(), wait), by=anna))
    start = "2026-03-02T09:00:00Z"
    early = phone.entry("timer", "wait", started_at=start, ended_at="2026-03-02T09:00:40Z")
    whole = phone.entry("timer", "wait", started_at=start, ended_at="2026-03-02T09:01:00Z")

    assert outcomes(sync(anna, phone.acknowledge(), early)) == ["applied", "bad_entry"]
    assert outcomes(sync(anna, whole)) == ["applied"]


def test_taking_a_part_moves_stock_once_and_a_skip_instead_gives_it_back(anna):
    level = StockLevelFactory(on_hand=5, part__order_code="FUSE-T160")
    parts = [{"key": "fuse", "order_code": "FUSE-T160", "name": "Fuse", "quantity": 2}]
    step = {"id": "take", "kind": "take_part", "title": "Fuse", "part": "fuse"}
    phone = Phone(anna, started(template(caution(), step, parts=parts), by=anna))
    taken = phone.entry("part", "take", part=level.part.code, quantity=2)

    sync(anna, phone.acknowledge(), taken)
    sync(anna, taken)

    level.refresh_from_db()
    assert level.on_hand == 3
    assert Move.objects.get(id=taken["id"]).template == "small"

    sync(anna, correcting(phone.skip("take", "not_applicable"), taken))

    level.refresh_from_db()
    assert level.on_hand == 5


def test_a_part_that_does_not_exist_is_refused_and_leaves_no_trace(anna, sheet):
    log = Phone(anna, repair=sheet.repair)

    results = sync(anna, log.entry("part", part="A9999990", quantity=1))

    assert outcomes(results) == ["no_such_part"]
    assert not Entry.objects.exists()


def test_the_bench_log_takes_readings_by_name_and_judges_them_only_with_limits(anna):
    log = Phone(anna, repair=on_the_bench())
    bare = log.read(None, "12", name="rail at idle", quantity="voltage_dc")
    limited = log.read(None, "12", name="rail", quantity="voltage_dc", low=14, high=16)
    nameless = log.read(None, "12", quantity="voltage_dc")

    results = sync(anna, bare, limited, nameless)

    assert outcomes(results) == ["applied", "applied", "bad_entry"]
    assert [e.verdict for e in Entry.objects.order_by("seq")] == ["not_judged", "fail"]


def test_the_desk_writes_notes_in_the_log_but_works_no_worksheet(dora, sheet):
    note = Phone(dora, repair=sheet.repair).entry("note", text="Customer rang.")
    work = Phone(dora, sheet).acknowledge()

    assert outcomes(sync(dora, note, work)) == ["applied", "bad_entry"]


@pytest.mark.parametrize("field", ["value", "verdict", "reason", "made_at", "step"])
def test_a_changed_entry_breaks_the_chain(anna, sheet, phone, field):
    sync(anna, phone.acknowledge(), phone.choose("cord", "sound"))
    forged = {"value": {"choice": "damaged"}, "made_at": NOW}.get(field, "forged")
    Entry.objects.filter(seq=2).update(**{field: forged})

    found = first_break_of(sheet.id)

    assert (found.seq, found.reason) == (2, "the entry was changed")


def test_a_removed_entry_breaks_the_chain(anna, sheet, phone):
    sync(anna, phone.acknowledge(), phone.choose("cord", "sound"), phone.read("rail", "5"))
    Entry.objects.filter(seq=3).delete()

    assert first_break_of(sheet.id).reason == "the end does not match what was kept"


def test_the_command_names_the_record_and_the_entry_that_does_not_hold(anna, sheet, phone, capsys):
    sync(anna, phone.acknowledge(), phone.choose("cord", "sound"))
    call_command("verify_chains")
    assert "1 records hold" in capsys.readouterr().out

    Entry.objects.filter(seq=1).update(step="forged")

    with pytest.raises(CommandError, match="1 of 1"):
        call_command("verify_chains")
    assert f"{sheet.id}, entry 1" in capsys.readouterr().err


def queries_of_a_batch(person, count):
    """Queries for a batch of readings, choices and notes in one worksheet and one bench log.

    SQLite's driver splits an INSERT of many rows to stay below its number of parameters, so the
    statements that add entries count as one there.
    """
    meter = MeterFactory()
    phone = Phone(person, started(template(), by=person))
    log = Phone(person, repair=phone.repair)
    operations = [phone.acknowledge()]
    for number in range(count // 2):
        operations.append(phone.read("rail", "5", meter=str(meter.id)))
        operations.append(log.entry("note", text=str(number)))
    with CaptureQueriesContext(connection) as queries:
        results = sync(person, *operations[:count])
    assert outcomes(results) == ["applied"] * count
    added = 'INSERT INTO "jobs_entry"'
    adding = sum(query["sql"].startswith(added) for query in queries.captured_queries)
    if connection.vendor == "postgresql":
        assert adding == 2  # one for each record
    return len(queries) - adding


def test_the_number_of_queries_does_not_grow_with_the_batch(anna):
    assert queries_of_a_batch(anna, 10) == queries_of_a_batch(anna, 200)


def test_people_are_kept_as_ids_so_a_new_name_breaks_nothing(sheet):
    worker = PersonFactory(role="tech", name="Before")
    sync(worker, Phone(worker, sheet).acknowledge())

    worker.name = "After"
    worker.save(update_fields=["name"])

    assert first_break_of(sheet.id) is None
