"""A template as a file for people to read: keys in the order of the work, sentences unbroken."""

from __future__ import annotations

import re
from typing import Any

import orjson
import yaml

# What is read first stands first. A database may keep an object's names in an order of its own.
_NAMES = (
    "schema_version", "slug", "id", "key", "name", "kind", "en", "title", "label", "summary",
    "text", "minutes", "role", "proves", "group", "safety", "mains", "energised", "phase",
    "required", "cautions", "gates", "reason", "facts", "parts", "work", "calculator", "quantity",
    "unit", "order_code", "choices", "verdict", "goes_on", "value", "names", "from", "over", "as",
    "max", "take", "when", "when_fact", "repeat", "given", "template", "revision", "for_each",
    "rows", "set_percent", "set_volt", "dwell_seconds", "columns", "limits", "along", "low",
    "high", "nominal", "points", "band", "rule", "meter_kinds", "blocks", "seconds",
    "waiting_text", "part", "other_person", "writes", "ramp", "stop_rules", "table", "procedure",
    "steps", "keys", "cases", "variants", "sha256", "caption", "includes", "pictures",
)  # fmt: skip
_ORDER = {name: place for place, name in enumerate(_NAMES)}
# Read as numbers by other readers of YAML than ours.
_LIKE_A_NUMBER = re.compile(r"[-+.]?[0-9][0-9_]*(\.[0-9]*)?([eE][-+]?[0-9]+)?|0[xob][0-9a-fA-F]+")
_ODD_BREAKS = frozenset("\r\x85\u2028\u2029\ufeff")  # lost or folded unless they are escaped
_LINE = 76


def written_file(content: dict[str, Any], form: str) -> bytes:
    """The file, as "yaml" or "json"."""
    content = _ordered(content)
    if form == "json":
        return orjson.dumps(content, option=orjson.OPT_INDENT_2 | orjson.OPT_APPEND_NEWLINE)
    # A width no sentence reaches: broken lines make poor differences between two files.
    text: str = yaml.dump(
        content, Dumper=_Block, sort_keys=False, allow_unicode=True, width=1_000_000, indent=2
    )
    return text.encode()


def _ordered(node: Any) -> Any:
    if isinstance(node, list):
        return [_ordered(inner) for inner in node]
    if not isinstance(node, dict):
        return node
    names = sorted(node, key=lambda name: _ORDER.get(name, len(_ORDER)))
    return {name: _ordered(node[name]) for name in names}


class _Block(yaml.SafeDumper):
    """Block style with lists indented below their name."""

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:
        super().increase_indent(flow, indentless=False)

    def ignore_aliases(self, data: Any) -> bool:
        return True  # the same sentence twice is two sentences


def _text(dumper: yaml.SafeDumper, text: str) -> yaml.ScalarNode:
    style = None
    if _LIKE_A_NUMBER.fullmatch(text) or _ODD_BREAKS & set(text):
        style = '"'
    elif "\n" in text:
        style = "|"
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style=style)


_Block.add_representer(str, _text)


def in_lines(base64: str) -> str:
    """Letters of a picture in lines that an editor can show."""
    return "\n".join(base64[at : at + _LINE] for at in range(0, len(base64), _LINE)) + "\n"
