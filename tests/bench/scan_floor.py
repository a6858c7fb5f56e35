"""The floor of a scan: the same two answers by hand, raw SQL and orjson, nothing else."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

import django

django.setup()

import orjson  # noqa: E402 - the settings come first
from django.db import connection  # noqa: E402

from tests.bench.floor import SESSION  # noqa: E402
from tests.bench.floor import application as pack  # noqa: E402

CODE = re.compile("/codes/([0-9A-Z]{8})/")
PERSON = "SELECT id, role, is_active FROM core_person WHERE username = %s"
UNIT = """
SELECT u.id, u.code, u.make, u.model, u.serial, u.model_sheet_id, s.hazards, u.set_for_volt,
       u.shelf_id, u.do_not_power, r.id
FROM units_unit u LEFT JOIN units_modelsheet s ON s.id = u.model_sheet_id
LEFT JOIN repairs_repair r ON r.unit_id = u.id AND r.stage NOT IN ('handed_back', 'disposed')
WHERE u.code = %s"""
PIECES = "SELECT code, name, state FROM units_piece WHERE unit_id = %s"
SHEETS = """
SELECT w.id, w.repair_id, v.template_id, t.title, v.number, w.stage, w.opened_at, p.name,
       h.last_seq, w.pack_sha256
FROM jobs_worksheet w JOIN jobs_revision v ON v.id = w.revision_id
JOIN jobs_jobtemplate t ON t.slug = v.template_id JOIN core_person p ON p.id = w.opened_by_id
LEFT JOIN jobs_recordhead h ON h.record = w.id WHERE w.repair_id = %s"""
SHEET_NAMES = ("id", "repair", "template", "title", "revision", "stage", "opened_at",
               "opened_by_name", "last_seq", "pack_sha256")  # fmt: skip


def application(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
    code = CODE.search(environ["PATH_INFO"])
    if code is None:
        return pack(environ, start_response)
    session = SESSION.search(environ["HTTP_COOKIE"])
    assert session
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT session_data FROM django_session WHERE session_key = %s", [session[1]]
        )
        cursor.fetchone()
        cursor.execute(PERSON, ["bench"])
        cursor.fetchone()
        content = orjson.dumps(_unit(cursor, code[1]), option=orjson.OPT_UTC_Z)
    start_response("200 OK", [("Content-Type", "application/json")])
    return [content]


def _unit(cursor: Any, code: str) -> dict[str, Any]:
    cursor.execute(UNIT, [code])
    id, code, make, model, serial, sheet, _hazards, volt, _shelf, no_power, repair = (
        cursor.fetchone()
    )
    cursor.execute(PIECES, [id])
    pieces = [dict(zip(("code", "name", "state"), row, strict=True)) for row in cursor.fetchall()]
    cursor.execute(SHEETS, [repair])
    sheets = [dict(zip(SHEET_NAMES, row, strict=True)) for row in cursor.fetchall()]
    for row in sheets:
        row |= {"id": _id(row["id"]), "repair": _id(row["repair"]), "opened_at": _time(row)}
    unit = {
        "id": _id(id), "code": code, "make": make, "model": model, "serial": serial,
        "model_sheet": _id(sheet), "hazards": [], "set_for_volt": volt, "place": None,
        "do_not_power": bool(no_power), "pieces": pieces,
    }  # fmt: skip
    return {"code": code, "kind": "unit", "unit": unit, "repair": _id(repair),
            "worksheets": sheets}  # fmt: skip


def _id(value: Any) -> UUID | None:
    return UUID(value) if isinstance(value, str) else value


def _time(row: dict[str, Any]) -> datetime:
    """SQLite keeps a time without its zone."""
    at: datetime = row["opened_at"]
    return at if at.tzinfo else at.replace(tzinfo=UTC)
