"""What a JSON Schema says no with, as a sentence for who writes a job template."""

from __future__ import annotations

from typing import Final

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as n
from jsonschema.exceptions import ValidationError

BELONGS_NOT: Final = n("This does not belong here.")
LONGEST: Final = 300

# By the keyword that failed. `{limit}` is what the schema says beside it.
WORDS: Final[dict[str, str]] = {
    "minLength": n("This must not be empty."),
    "minItems": n("Too few: at least {limit}."),
    "maxLength": n("Too long: at most {limit} characters."),
    "maxItems": n("Too many: at most {limit}."),
    "minimum": n("Too small: at least {limit}."),
    "maximum": n("Too large: at most {limit}."),
    "exclusiveMinimum": n("Too small: more than {limit}."),
    "exclusiveMaximum": n("Too large: less than {limit}."),
    "enum": n("This is none of the values that can stand here."),
    "const": n("This is none of the values that can stand here."),
    "pattern": n("This is not written as it must be."),
    "uniqueItems": n("The same stands here twice."),
    "anyOf": n("Something is missing here, or does not belong here."),
    "oneOf": n("Something is missing here, or does not belong here."),
    "not": BELONGS_NOT,
    "additionalProperties": BELONGS_NOT,
    "unevaluatedProperties": BELONGS_NOT,
    "minProperties": n("This must not be empty."),
}


def in_words(error: ValidationError) -> str:
    """The fault as a sentence; a keyword without words of ours says what the validator says."""
    if error.schema is False:
        return _(BELONGS_NOT)
    if error.validator == "required":
        return _("Missing: {names}.").format(names=", ".join(_missing(error)))
    if words := WORDS.get(str(error.validator)):
        return _(words).format(limit=error.validator_value)
    return str(error.message)[:LONGEST]


def _missing(error: ValidationError) -> list[str]:
    return [name for name in error.validator_value if name not in error.instance]
