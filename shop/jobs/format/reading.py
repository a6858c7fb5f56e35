"""A template file read with the line of every node, so that a fault can be pointed at."""

from __future__ import annotations

import json
from typing import Any

import yaml
from django.utils.translation import gettext as _

from shop.jobs.format.problems import Path, Problem


def read_template(content: bytes) -> tuple[Any, dict[Path, int], list[Problem]]:
    """The template, the line of each node, and what makes it no JSON."""
    try:
        text = content.decode("utf-8")
        body = json.loads(text, object_pairs_hook=_no_doubles, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        return None, {}, [Problem((), _("This is no JSON: %s") % error.msg, line=error.lineno)]
    except (UnicodeDecodeError, ValueError, RecursionError) as error:
        return None, {}, [Problem((), _("This is no JSON: %s") % error)]
    return body, _lines(text), []


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    body = dict(pairs)
    if len(body) < len(pairs):
        names = [name for name, __ in pairs]
        raise ValueError(_("the name %r stands twice") % max(names, key=names.count))
    return body


def _no_constant(text: str) -> float:
    raise ValueError(_("%s is no number") % text)


def _lines(text: str) -> dict[Path, int]:
    """Lines by path. JSON is YAML, and a YAML parser knows where each node stands."""
    found: dict[Path, int] = {}
    try:
        root = yaml.compose(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    except yaml.YAMLError:  # the few JSON texts that are no YAML simply have no line numbers
        return found
    _walk(root, (), found)
    return found


def _walk(node: Any, path: Path, found: dict[Path, int]) -> None:
    found[path] = node.start_mark.line + 1
    if isinstance(node, yaml.MappingNode):
        for name, inner in node.value:
            _walk(inner, (*path, name.value), found)
    elif isinstance(node, yaml.SequenceNode):
        for index, inner in enumerate(node.value):
            _walk(inner, (*path, index), found)
