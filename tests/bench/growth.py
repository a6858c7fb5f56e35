"""A shop that has been at it for years, made by SQL: rows copied from one real repair.

Every repair has a unit, five stage events, a worksheet, twenty entries and a move of stock; 150 are
open, spread over the stages, the rest were handed back over eight years. The entries are copies, so
their chains do not hold, and the packs of closed repairs are empty: it is their number that counts
here.
"""

from __future__ import annotations

from typing import Any

from django.db import connection, transaction
from django.utils import timezone

OPEN = 150
ENTRIES = 20
OPEN_STAGES = ("looking_over", "on_the_bench", "on_test", "awaiting_parts", "awaiting_go_ahead",
               "ready")  # fmt: skip
YEARS_MINUTES = 8 * 365 * 24 * 60


def grow(repairs: int) -> Any:
    """Fill the books up to this many repairs. Returns the worksheet they were copied from."""
    from shop.core.ids import new_id
    from shop.jobs.services import apply_operations
    from shop.stock.services import take_part
    from tests.factories.core import PersonFactory, ShopFactory
    from tests.factories.jobs import MeterFactory, Phone, caution, reading, started, template
    from tests.factories.stock import StockLevelFactory

    ShopFactory()
    tech = PersonFactory(username="bench", role="tech")
    PersonFactory(username="boss", role="manager")
    meter = MeterFactory()
    steps = [reading(f"r{n}", rule="guarded") for n in range(ENTRIES)]
    first = started(template(caution(), *steps), by=tech)
    phone = Phone(tech, first)
    operations = [phone.acknowledge()]
    operations += [phone.read(f"r{n}", "5.01", meter=str(meter.id)) for n in range(ENTRIES - 1)]
    results = apply_operations(person=tech, device_id=None, operations=operations)
    if any(result.outcome != "applied" for result in results):
        raise SystemExit("the first repair could not be made")
    part = StockLevelFactory().part
    take_part(id=new_id(), part=part, quantity=1, repair=first.repair, by=tech, at=timezone.now())
    with transaction.atomic(), connection.cursor() as cursor:
        _copies(cursor, first, repairs - 1)
    _analyse()
    return first


def _copies(cursor: Any, first: Any, count: int) -> None:
    cursor.execute("CREATE TEMPORARY TABLE copies (n integer)")
    cursor.execute(
        "INSERT INTO copies WITH RECURSIVE up(n) AS "
        "(SELECT 1 UNION ALL SELECT n + 1 FROM up WHERE n < %s) SELECT n FROM up",
        [count],
    )
    n, is_open = "copies.n", f"copies.n > {count - OPEN}"
    begun = _minutes_ago(f"({count} - {n}) * ({YEARS_MINUTES} / {count + 1})")
    closed = _minutes_ago(f"({count} - {n}) * ({YEARS_MINUTES} / {count + 1}) * 0.99")
    stages = " ".join(f"WHEN {i} THEN '{stage}'" for i, stage in enumerate(OPEN_STAGES))
    stage = f"CASE WHEN {is_open} THEN CASE {n} % {len(OPEN_STAGES)} {stages} END "
    stage += "ELSE 'handed_back' END"
    unit, repair, sheet = (_uuid(kind, n) for kind in (1, 2, 3))
    nothing = "NULL::timestamptz" if connection.vendor == "postgresql" else "NULL"
    closed_at = f"CASE WHEN {is_open} THEN {nothing} ELSE {closed} END"
    _copy(cursor, "units_unit", first.repair.unit_id, id=unit, code=_text("Z", n),
          serial=_text("S", n))  # fmt: skip
    _copy(
        cursor, "repairs_repair", first.repair_id, id=repair, unit_id=unit, number=f"{n} + 100000",
        stage=stage, stage_since=begun, booked_in_at=begun, closed_at=closed_at,
        content_hash=_text("H", n),
    )  # fmt: skip
    _events(cursor, first, repair, begun, closed)
    worked = f"CASE WHEN {is_open} THEN 'open' ELSE 'passed' END"
    _copy(cursor, "jobs_worksheet", first.id, id=sheet, repair_id=repair, opened_at=begun,
          stage=worked, pack=_empty_bytes())  # fmt: skip
    _copy(cursor, "jobs_recordhead", first.id, key="record", record=sheet)
    move = first.repair.moves.get()
    _copy(cursor, "stock_move", move.id, id=_uuid(9, n), repair_id=repair, at=begun)
    for seq in range(1, ENTRIES + 1):
        _copy(
            cursor, "jobs_entry", first.id, key=f"seq = {seq} AND record", record=sheet,
            worksheet_id=sheet, repair_id=repair, id=_uuid(10 + seq, n), received_at=begun,
            made_at=begun,
        )  # fmt: skip


def _events(cursor: Any, first: Any, repair: str, begun: str, closed: str) -> None:
    from shop.repairs.models import StageEvent

    ways = ("", "booked_in", "looking_over", "on_the_bench", "on_test", "handed_back")
    for place in range(5):
        event = StageEvent.objects.create(
            repair=first.repair, from_stage=ways[place], to_stage=ways[place + 1],
            at=timezone.now(), by=first.opened_by, reason="",
        )  # fmt: skip
        at = closed if place == 4 else begun
        _copy(cursor, "repairs_stageevent", event.id, id=_uuid(4 + place, "copies.n"),
              repair_id=repair, at=at)  # fmt: skip
        event.delete()


def _copy(cursor: Any, table: str, of: Any, key: str = "id", **changed: str) -> None:
    """A row for each number, like the row `of` in all but the changed columns."""
    with connection.cursor() as look:
        description = connection.introspection.get_table_description(look, table)
    columns = [column.name for column in description]
    values = [changed.get(column) or f'{table}."{column}"' for column in columns]
    names = ", ".join(f'"{column}"' for column in columns)
    id = of if connection.vendor == "postgresql" else of.hex
    cursor.execute(
        f"INSERT INTO {table} ({names}) SELECT {', '.join(values)} FROM {table}, copies "
        f"WHERE {key} = %s",
        [id],
    )


def _uuid(kind: int, n: str) -> str:
    if connection.vendor == "postgresql":
        return f"(lpad(to_hex({kind}), 8, '0') || lpad(to_hex({n}), 24, '0'))::uuid"
    return f"printf('%%08x%%024x', {kind}, {n})"


def _text(letter: str, n: str) -> str:
    if connection.vendor == "postgresql":
        return f"'{letter}' || lpad(to_hex({n}), 6, '0')"
    return f"'{letter}' || printf('%%06x', {n})"


def _empty_bytes() -> str:
    return "'{}'::bytea" if connection.vendor == "postgresql" else "CAST('{}' AS BLOB)"


def _minutes_ago(minutes: str) -> str:
    if connection.vendor == "postgresql":
        return f"now() - ({minutes}) * interval '1 minute'"
    ago = f"'-' || CAST({minutes} AS INTEGER) || ' minutes'"
    return f"strftime('%%Y-%%m-%%d %%H:%%M:%%f000', 'now', {ago})"


def _analyse() -> None:
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def tag_open_units(packs: bytes, sha256: str, count: int = 100) -> list[tuple[str, Any]]:
    """Give open units a real tag, a piece and a pack: (code, worksheet id) of each."""
    from shop.calc.codes import Kind
    from shop.core.codes import draw_code
    from shop.jobs.models import Worksheet
    from shop.units.models import Piece, Unit

    rows = Worksheet.objects.filter(stage="open", repair__number__gt=100_000)
    tagged = []
    for id, unit in rows.values_list("id", "repair__unit_id")[:count]:
        code = draw_code(Kind.UNIT)
        Unit.objects.filter(id=unit).update(code=code)
        Piece.objects.create(code=draw_code(Kind.PIECE), unit_id=unit, name="mains cord")
        Worksheet.objects.filter(id=id).update(pack=packs, pack_sha256=sha256)
        tagged.append((code, id))
    return tagged
