"""One shape for every refusal: `application/problem+json` (RFC 9457) with a stable code."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import OperationalError
from django.http import Http404, HttpRequest, JsonResponse
from django.utils.translation import gettext as _
from rest_framework import exceptions
from rest_framework.response import Response

from shop.calc.working import BadInput
from shop.core.errors import BadField, ShopError

PROBLEM = "application/problem+json"


def problem(
    status: int, code: str, title: object, detail: object = "", **more: Any
) -> dict[str, Any]:
    body = {"type": "about:blank", "title": str(title), "status": status, "code": code}
    return {**body, "detail": str(detail) or str(title), **more}


def as_problem(error: Exception, context: dict[str, Any]) -> Response | None:
    """DRF's exception handler."""
    body = _body_of(error)
    if body is None:
        return None
    answer = Response(body, status=body["status"], content_type=PROBLEM)
    if header := getattr(error, "auth_header", None):
        answer["WWW-Authenticate"] = header
    if wait := getattr(error, "wait", None):
        answer["Retry-After"] = str(int(wait))
    return answer


def _body_of(error: Exception) -> dict[str, Any] | None:
    match error:
        case BadField():
            row = {"field": error.field, "code": error.field_code, "detail": str(error.detail)}
            return problem(400, error.code, error.title, error.detail, errors=[row])
        case ShopError():
            facts = {name: value for name, value in error.facts.items() if value is not None}
            return problem(error.status, error.code, error.title, error.detail, **facts)
        case BadInput():
            row = {
                "field": error.field,
                "code": getattr(error, "code", "bad_input"),
                "detail": error.reason,
            }
            return problem(400, "bad_input", _("A value cannot be used."), str(error), errors=[row])
        case exceptions.ValidationError():
            rows = list(_field_errors(error.get_full_details(), ""))
            return problem(
                400,
                "bad_input",
                _("Something that was sent cannot be used."),
                "; ".join(f"{r['field']}: {r['detail']}" for r in rows),
                errors=rows,
            )
        case Http404():
            return problem(404, "not_found", _("There is no such thing here."))
        case PermissionDenied():
            return problem(403, "not_your_role", _("Your role may not do this."))
        case OperationalError():
            return problem(503, "database_busy", _("The database is busy. Try again."))
        case exceptions.APIException():
            return _from_rest_framework(error)
    return None


CODES = {
    401: "not_signed_in",
    403: "not_your_role",
    404: "not_found",
    405: "method_not_allowed",
    415: "json_only",
    429: "too_many_tries",
}


def _from_rest_framework(error: exceptions.APIException) -> dict[str, Any]:
    code = CODES.get(error.status_code, str(error.default_code))
    return problem(error.status_code, code, error.default_detail, error.detail)


def _field_errors(details: Any, path: str) -> Iterator[dict[str, str]]:
    """Flatten DRF's nested details to rows of field, code and sentence."""
    if isinstance(details, dict) and set(details) == {"message", "code"}:
        yield {"field": path or "input", "code": details["code"], "detail": str(details["message"])}
    elif isinstance(details, dict):
        for name, inner in details.items():
            yield from _field_errors(inner, _inside(path, name))
    elif isinstance(details, list):
        plain = all(isinstance(d, dict) and set(d) == {"message", "code"} for d in details)
        for index, inner in enumerate(details):
            yield from _field_errors(inner, path if plain else f"{path}[{index}]")


def _inside(path: str, name: str | int) -> str:
    """The path of a field inside another; a row of a list has its number in brackets."""
    if isinstance(name, int):
        return f"{path}[{name}]"
    return path if name == "non_field_errors" else f"{path}.{name}".lstrip(".")


def not_found(request: HttpRequest, exception: Exception | None = None) -> JsonResponse:
    body = problem(404, "not_found", _("There is no such address here."))
    return JsonResponse(body, status=404, content_type=PROBLEM)


def server_error(request: HttpRequest) -> JsonResponse:
    body = problem(500, "server_error", _("Something went wrong here. It was written down."))
    return JsonResponse(body, status=500, content_type=PROBLEM)
