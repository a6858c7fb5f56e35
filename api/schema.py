"""What drf-spectacular cannot know: every operation may answer with a problem."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from drf_spectacular.extensions import OpenApiAuthenticationExtension


class StaffSessionScheme(OpenApiAuthenticationExtension):
    """The session cookie; writes carry the CSRF header beside it."""

    target_class = "api.authentication.StaffSession"
    name = "staffSession"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:
        return {"type": "apiKey", "in": "cookie", "name": settings.SESSION_COOKIE_NAME}


PROBLEM_SCHEMA = {
    "type": "object",
    "required": ["type", "title", "status", "code", "detail"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "code": {"type": "string", "description": "Stable; never changed."},
        "detail": {"type": "string"},
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["field", "code", "detail"],
                "properties": {
                    "field": {"type": "string"},
                    "code": {"type": "string"},
                    "detail": {"type": "string"},
                },
            },
        },
    },
    "additionalProperties": True,
}
STATUSES = ("400", "401", "403", "404", "405", "409", "412", "415", "428", "429")


def add_problem_answers(result: dict[str, Any], **_: Any) -> dict[str, Any]:
    """Postprocessing hook: add the problem shape to every operation."""
    result["components"].setdefault("schemas", {})["Problem"] = PROBLEM_SCHEMA
    content = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
    for operations in result["paths"].values():
        for operation in operations.values():
            for status in STATUSES:
                answer = {"description": "A refusal with its reason.", "content": content}
                operation["responses"].setdefault(status, answer)
    return result
