"""A page per calculator for the documentation: by hand in the middle, generated around it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from shop.calc.areas import AREAS, area_of, key_of
from shop.calc.registry import Calculator, calculators, work_out
from shop.calc.working import Answer, Working

BY_HAND, GENERATED = "<!-- by hand -->", "<!-- generated -->"
WANTED = ("## Formula", "## Limits")
STATUS = {
    "verified": "seen in the text itself",
    "second_hand": "seen on a page that quotes it",
    "from_memory": "from memory",
    "computed": "follows from the formula",
    "proposed": "our choice",
    "common_practice": "common practice, no source",
}


def pages(folder: Path) -> dict[str, str]:
    """File name and whole text of every page, with what is written by hand as it stands there."""
    made = {f"{name}.md": _page(one, _by_hand(folder, name)) for name, one in calculators().items()}
    return {"README.md": _index(), **made}


def faults(folder: Path) -> list[str]:
    """What is wrong with the pages in a folder, a line each."""
    wanted = pages(folder)
    unknown = {file.name for file in folder.glob("*.md")} - set(wanted)
    found = [f"{name}: no calculator" for name in sorted(unknown)]
    for name, text in wanted.items():
        file = folder / name
        if not file.exists() or file.read_text() != text:
            found.append(f"{name}: out of date")
        lacking = [title for title in WANTED if name != "README.md" and title not in text]
        found += [f"{name}: lacks {title!r}" for title in lacking]
    return found


def write(folder: Path) -> None:
    """Write what is generated; leave what is written by hand."""
    folder.mkdir(exist_ok=True)
    for name, text in pages(folder).items():
        (folder / name).write_text(text)


def _index() -> str:
    lines = [
        "# Calculations",
        "",
        "What the bench looks up and works out, a page each. Every page says how far its sources",
        "can be trusted. The tables and worked cases are generated from the code.",
    ]
    for area, title in AREAS.items():
        inside = [one for name, one in calculators().items() if key_of(name) == area]
        if inside:
            lines += ["", f"## {title}", ""]
            lines += [f"- [{one.title}]({one.name}.md): {one.question}" for one in inside]
    return "\n".join([*lines, ""])


def _page(one: Calculator, by_hand: str) -> str:
    head = [f"# {one.title}", "", one.question, "", f"`{one.name}` ({area_of(one.name)})", ""]
    tail = [*_inputs(one), *_worked_case(one)]
    return "\n".join([*head, BY_HAND, by_hand, GENERATED, "", *tail, ""])


def _by_hand(folder: Path, name: str) -> str:
    file = folder / f"{name}.md"
    text = file.read_text() if file.exists() else ""
    return text.partition(BY_HAND)[2].partition(GENERATED)[0].strip("\n").join(["\n", "\n"])


def _inputs(one: Calculator) -> Iterator[str]:
    yield from ("## What goes in", "")
    schema = one.schemas()["input"]
    first = schema["$ref"].rpartition("/")[2]
    yield from _fields(schema["$defs"].pop(first))
    for name, shape in schema["$defs"].items():
        yield from (f"### {name}", "", shape.get("description", ""), "")
        yield from _fields(shape) if "properties" in shape else (_choices(shape), "")


def _fields(shape: Mapping[str, Any]) -> Iterator[str]:
    yield from ("| field | meaning | unit | may be left out |", "|---|---|---|---|")
    for name, field in shape["properties"].items():
        needed = name in shape.get("required", [])
        unit = field.get("x-unit", "")
        yield f"| `{name}` | {_meaning(field)} | {unit} | {'' if needed else _default(field)} |"
    yield ""


def _default(field: Mapping[str, Any]) -> str:
    default = field.get("default")
    empty = default in (None, [], "")
    return "yes" if empty else f"yes: `{json.dumps(default, ensure_ascii=False)}`"


def _meaning(field: Mapping[str, Any]) -> str:
    words = [field.get("title", ""), field.get("description", ""), _choices(field)]
    return ": ".join(word for word in words if word).replace("|", "\\|").replace("\n", " ")


def _choices(shape: Mapping[str, Any]) -> str:
    labels = shape.get("x-labels", {})
    words = [f"`{choice}` {labels.get(choice, '')}".strip() for choice in shape.get("enum", [])]
    return ", ".join(words)


def _worked_case(one: Calculator) -> Iterator[str]:
    answer: Answer[Any] = work_out(one.name, one.example)
    yield from ("## A worked case", "", "```json")
    yield json.dumps(one.example, indent=2, ensure_ascii=False)
    yield from ("```", "", f"**{answer.outcome.value}**: {answer.text}", "")
    yield from _working(answer.working)


def _working(working: Working) -> Iterator[str]:
    if working.lines:
        yield from ("| | how | result |", "|---|---|---|")
        for line in working.lines:
            cells = (line.label, line.formula, line.result)
            yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"
        yield ""
    for title, texts in (("Cautions", working.cautions), ("Disagreements", working.disagreements)):
        if texts:
            yield from (f"## {title}", "", *(f"- {text}" for text in texts), "")
    yield from ("## Sources", "", "| what | where | how well known |", "|---|---|---|")
    for source in working.sources:
        yield f"| {source.text} | {source.at} | {STATUS[source.status.value]} |"
