"""What earlier steps offer to later ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from shop.jobs.format.bench_conditions import can_part
from shop.jobs.format.problems import Path

Step = dict[str, Any]


@dataclass
class Seen:
    """The steps so far, by id: each with its block, look steps with their choices."""

    steps: dict[str, Step] = field(default_factory=dict)
    blocks: dict[str, Path | None] = field(default_factory=dict)
    keys: dict[str, list[str]] = field(default_factory=dict)
    conditions: dict[str, Any] = field(default_factory=dict)

    def add(self, step: Step, block: Path | None) -> None:
        name = step["id"]
        self.steps[name], self.blocks[name] = step, block
        self.conditions[name] = step.get("when")
        if step["kind"] == "look":
            self.keys[name] = [choice["key"] for choice in _all_choices(step)]

    def kind(self, name: str) -> str | None:
        return self.steps[name]["kind"] if name in self.steps else None

    def is_safety(self, name: str) -> bool:
        return bool(self.steps[name].get("safety"))

    def can_be_hidden(self, name: str, step: Step) -> bool:
        """Whether some choices hide an earlier step while they show this one."""
        earlier = self.steps[name].get("when")
        return can_part(step.get("when"), earlier, self.keys, self.conditions)

    def has_caution(self, step: Step, block: Path | None) -> bool:
        """Whether a caution is read before this step, whatever is known and chosen."""
        return any(self._warns(name, step, block) for name in self.steps)

    def _warns(self, name: str, step: Step, block: Path | None) -> bool:
        earlier = self.steps[name]
        if earlier["kind"] != "caution" or self.blocks[name] not in (None, block):
            return False
        known = earlier.get("when_fact") in (None, step.get("when_fact"))
        return known and not self.can_be_hidden(name, step)


def _all_choices(step: Step) -> Iterator[dict[str, Any]]:
    yield from step["choices"]
    for case in step.get("variants", {}).get("cases", {}).values():
        yield from case.get("choices", [])
