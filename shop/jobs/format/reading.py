"""A template file, JSON or YAML, read with the line of every node, so that faults can be shown.

Of YAML only what JSON can say is read: no aliases, no tags, no dates; `no` and `on` are words.
"""

from __future__ import annotations

import json
import re
from typing import Any

import yaml
from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.jobs.format.keeping import DEEPEST, require_plain, uncounted_numbers
from shop.jobs.format.problems import Path, Problem

Lines = dict[Path, int]
LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
MOST_NODES = 200_000  # of all templates in a file; a picture is one
NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?")
WORDS = {"": None, "~": None, "null": None, "true": True, "false": False}


class Unreadable(ValueError):
    """The text says something that no template can hold. `line` counts from 1."""

    def __init__(self, reason: str, line: int | None = None) -> None:
        super().__init__(reason)
        self.line = line


def read_template(content: bytes) -> tuple[Any, Lines, list[Problem]]:
    """The template, the line of each node, and what makes it no JSON and no YAML."""
    try:
        text = content.decode("utf-8-sig")
        is_json = text.lstrip()[:1] in ("{", "[")
        body, lines = _json(text) if is_json else _yaml(text)
    except UnicodeDecodeError as error:
        return None, {}, [Problem((), _("This is no JSON or YAML: %s") % error)]
    except Unreadable as error:
        return None, {}, [Problem((), str(error), line=error.line)]
    return body, lines, _unkeepable(body, lines)


def _unkeepable(body: Any, lines: Lines) -> list[Problem]:
    """What the books cannot keep."""
    try:
        require_plain(body)
    except BadField as no:
        return [Problem((), str(no))]
    return [Problem(p.path, p.reason, line=lines.get(p.path)) for p in uncounted_numbers(body)]


# JSON


def _json(text: str) -> tuple[Any, Lines]:
    if text.count(",") > MOST_NODES:
        raise Unreadable(_("This is too long for a job template."))
    try:
        body = json.loads(text, object_pairs_hook=_no_doubles, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise Unreadable(_("This is no JSON: %s") % error.msg, error.lineno) from error
    except (ValueError, RecursionError) as error:
        raise Unreadable(_("This is no JSON: %s") % error) from error
    return body, _lines(text)


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    body = dict(pairs)
    if len(body) < len(pairs):
        names = [name for name, __ in pairs]
        raise ValueError(_("the name %r stands twice") % max(names, key=names.count))
    return body


def _no_constant(text: str) -> float:
    raise ValueError(_("%s is no number") % text)


def _lines(text: str) -> Lines:
    """Lines by path. JSON is YAML, and a YAML parser knows where each node stands."""
    found: Lines = {}
    try:
        _require_shallow(text)
        _walk(yaml.compose(text, Loader=LOADER), (), found)
    except (yaml.YAMLError, Unreadable):  # the few that are no YAML simply have no line numbers
        return {}
    return found


def _walk(node: Any, path: Path, found: Lines) -> None:
    found[path] = _line_of(node)
    if isinstance(node, yaml.MappingNode):
        for name, inner in node.value:
            _walk(inner, (*path, name.value), found)
    elif isinstance(node, yaml.SequenceNode):
        for index, inner in enumerate(node.value):
            _walk(inner, (*path, index), found)


# YAML


def _yaml(text: str) -> tuple[Any, Lines]:
    lines: Lines = {}
    try:
        _require_shallow(text)
        root = yaml.compose(text, Loader=LOADER)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else None
        raise Unreadable(_("This is no JSON or YAML: %s") % error.problem, line) from error
    except yaml.YAMLError as error:
        raise Unreadable(_("This is no JSON or YAML: %s") % error) from error
    return (None if root is None else _value(root, (), lines)), lines


def _require_shallow(text: str) -> None:
    """Looked at event by event: a composed tree could be deeper than the machine stands."""
    depth = 0
    event: Any
    for count, event in enumerate(yaml.parse(text, Loader=LOADER)):
        line = _line_of(event)
        if count > MOST_NODES:
            raise Unreadable(_("This is too long for a job template."), line)
        if isinstance(event, yaml.AliasEvent):
            raise Unreadable(_("Aliases (*%s) are not read: write it out.") % event.anchor, line)
        if getattr(event, "tag", None) not in (None, "!"):
            raise Unreadable(_("Tags (%s) are not read.") % event.tag, line)
        depth += isinstance(event, yaml.CollectionStartEvent)
        depth -= isinstance(event, yaml.CollectionEndEvent)
        if depth > DEEPEST:
            raise Unreadable(_("This is nested too deeply."), line)


def _line_of(part: Any) -> int:
    return int(part.start_mark.line) + 1


def _value(node: Any, path: Path, lines: Lines) -> Any:
    lines[path] = _line_of(node)
    if isinstance(node, yaml.SequenceNode):
        return [_value(inner, (*path, index), lines) for index, inner in enumerate(node.value)]
    if isinstance(node, yaml.MappingNode):
        return _mapping(node, path, lines)
    return node.value if node.style else _plain(node.value, lines[path])


def _mapping(node: Any, path: Path, lines: Lines) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, inner in node.value:
        line = _line_of(name)
        if not isinstance(name, yaml.ScalarNode):
            raise Unreadable(_("A name must be text."), line)
        if name.value in found:
            raise Unreadable(_("the name %r stands twice") % name.value, line)
        found[name.value] = _value(inner, (*path, name.value), lines)
    return found


def _plain(text: str, line: int) -> Any:
    """A word without quotes: a number as JSON writes it, true, false, null, else text."""
    if text in WORDS:
        return WORDS[text]
    number = NUMBER.fullmatch(text)
    if not number:
        return text
    try:
        return float(text) if number[1] or number[2] else int(text)
    except ValueError as error:  # thousands of digits
        raise Unreadable(_("%s is no number") % f"{text[:20]}...", line) from error
