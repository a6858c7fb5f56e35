"""What can be named at one place of a template, and the check of a path against it."""

from __future__ import annotations

from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from shop.jobs.format.facts import FACTS
from shop.jobs.format.problems import Findings, Path
from shop.jobs.format.shapes import ANY, NoSuchPath, Shape, descend


@dataclass(frozen=True)
class Scope:
    """Names known at one place.

    `asked` and `work` are the shapes of what is asked and of earlier work, `looped` the list that
    each looped work runs over, `items` the names of the loops around, `over` the list of the
    loop around.
    """

    asked: dict[str, Shape] = field(default_factory=dict)
    work: dict[str, Shape] = field(default_factory=dict)
    looped: dict[str, str] = field(default_factory=dict)
    parts: frozenset[str] = frozenset()
    items: dict[str, Shape] = field(default_factory=dict)
    over: str | None = None

    def shape(self, path: str, *, whole_list: bool = False) -> Shape:
        """The shape at a path. Raises NoSuchPath with a sentence."""
        root, *names = path.split(".")
        if root in self.items:
            return self._down(self.items[root], names, path)
        if root == "work":
            return self._work(names, path, whole_list)
        if root == "asked":
            return self._asked(names, path)
        if root not in FACTS:
            raise NoSuchPath(_("%s: nothing known is called %r.") % (path, root))
        return self._down(FACTS[root], names, path)

    def _work(self, names: list[str], path: str, whole_list: bool) -> Shape:
        if not names or names[0] not in self.work:
            name = names[0] if names else ""
            raise NoSuchPath(_("%s: no earlier work is called %r.") % (path, name))
        over = self.looped.get(names[0])
        if over and over != self.over and not whole_list:
            raise NoSuchPath(
                _("%s: this work runs over %s; name it inside that loop or through largest.")
                % (path, over)
            )
        return self._down(self.work[names[0]], names[1:], path)

    def _asked(self, names: list[str], path: str) -> Shape:
        if not names or names[0] not in self.asked:
            raise NoSuchPath(_("%s: this is not asked.") % path)
        return self._down(self.asked[names[0]], names[1:], path)

    def _down(self, shape: Shape, names: list[str], path: str) -> Shape:
        try:
            return descend(shape, names)
        except NoSuchPath as error:
            raise NoSuchPath(_("%s: there is no %r.") % (path, str(error))) from None


def check_path(
    scope: Scope,
    named: str,
    path: Path,
    found: Findings,
    step: str | None = None,
    *,
    whole_list: bool = False,
) -> Shape:
    """The shape at `named`, or ANY after noting that it cannot exist."""
    try:
        return scope.shape(named, whole_list=whole_list)
    except NoSuchPath as error:
        found.add(path, str(error), step)
        return ANY
