"""Where everything stands on the drawing of an arrangement.

Sections stand one below the other with their points in the order of the turns. From the left: the
mains, the links on tracks of their own, the terminals, the coil, the rated volts.
"""

from __future__ import annotations

from itertools import chain, pairwise

from shop.calc.windings.drawing import Coil, Dot, Drawing, DrawnLine, Label, Stroke
from shop.calc.windings.sections import Section, Span, live_spans
from shop.calc.windings.tracks import Net, tracks
from shop.calc.words import _

TEXT_HEIGHT = 11.0
CHARACTER = 6.7  # width of a usual character of a monospaced face at this height
_MAINS, _FIRST_TRACK, _TRACK = 16.0, 28.0, 12.0
_COIL, _LEAST_NAME, _VOLTS, _RIGHT = 243.0, 100.0, 14.0, 77.0
_ROW, _ONLY_ROW, _HEAD, _MARGIN = 22.0, 30.0, 40.0, 10.0
_HEAD_VOLTS = 20  # characters behind a section's name
_BUMP, _TERMINAL, _FILLED = 7.0, 3.0, 2.5


def draw(sections: list[Section], links: list[list[str]], mains: list[str]) -> Drawing:
    """Draw sections, the links between them, and the mains at `mains` (line, neutral).

    `mains` may be empty: then nothing is fed, and no part of a winding counts as unused.
    """
    heights, height = _heights(sections)
    side = tracks(heights, links)
    joined = {*mains, *chain.from_iterable(links)}
    if not mains:  # nobody says where it is fed: the ends are as good as joined
        joined.update(*({one.start, one.finish} for one in sections))
    pen = _Pen(_FIRST_TRACK + _TRACK * len(side), joined)
    for letter, terminal in zip("LN", mains, strict=False):
        pen.feed(letter, heights[terminal])
    for place, track in enumerate(side):
        for net in track:
            pen.join(_FIRST_TRACK + _TRACK * place, net)
    live = live_spans(sections, links, mains) if mains else {}
    for section in sections:
        pen.section(section, heights, live.get(section.name) if mains else whole(section))
    return pen.drawing(_title(links, mains), height)


def whole(section: Section) -> Span:
    """A section from its lowest to its highest point."""
    points = section.points()
    return points[0][1], points[-1][1]


def _heights(sections: list[Section]) -> tuple[dict[str, float], float]:
    heights, y = {}, 0.0
    for section in sections:
        points = section.points()
        y += _HEAD
        for place, (terminal, _volt) in enumerate(points):
            y += (_ROW if len(points) > 2 else _ONLY_ROW) if place else 0.0
            heights[terminal] = y
    return heights, y + _MARGIN


def _title(links: list[list[str]], mains: list[str]) -> str:
    joined = ", ".join("–".join(link) for link in links) or _("none")
    if not mains:
        return _("Joined: {links}.", links=joined)
    line, neutral = mains
    return _(
        "Joined: {links}; line to {line}, neutral to {neutral}.",
        links=joined,
        line=line,
        neutral=neutral,
    )


class _Pen:
    """Collects what is drawn. `terminal_x` is where the terminals stand; `joined` are in use."""

    def __init__(self, terminal_x: float, joined: set[str]) -> None:
        self.terminal_x, self.joined = terminal_x, joined
        self.coil_x = max(_COIL, terminal_x + _LEAST_NAME)
        self.lines: list[DrawnLine] = []
        self.coils: list[Coil] = []
        self.dots: list[Dot] = []
        self.labels: list[Label] = []

    def drawing(self, title: str, height: float) -> Drawing:
        """All that was drawn so far."""
        width = self.coil_x + _RIGHT
        drawn = (self.lines, self.coils, self.dots, self.labels)
        return Drawing(title, width, height, TEXT_HEIGHT, *drawn)

    def feed(self, letter: str, y: float) -> None:
        """One pole of the mains, from the edge to its terminal."""
        self.labels.append(Label(4.0, y + 4, letter, "start", "mains"))
        self.lines.append(DrawnLine(_MAINS, y, self.terminal_x - _TERMINAL, y, Stroke.MAINS))

    def join(self, x: float, net: Net) -> None:
        """Terminals that are linked, along one track."""
        self.lines.append(DrawnLine(x, net[0], x, net[-1], Stroke.LINK))
        for y in net:
            self.lines.append(DrawnLine(x, y, self.terminal_x - _TERMINAL, y, Stroke.LINK))
            self.dots.append(Dot(x, y, _FILLED, "joint"))

    def section(self, section: Section, heights: dict[str, float], live: Span | None) -> None:
        """A section: its head, a row for each point, a coil between neighbours."""
        points = section.points()
        first = heights[points[0][0]]
        text = _head(section, live, self._room(self.coil_x + _RIGHT))
        self.labels.append(Label(self.terminal_x, first - 19, text, "start", "section"))
        for terminal, volt in points:
            self._point(terminal, volt, heights[terminal])
        for (upper, low), (lower, high) in pairwise(points):
            used = live is not None and live[0] <= low and high <= live[1]
            kind = Stroke.WINDING if used else Stroke.UNUSED
            self.coils.append(Coil(_coil(self.coil_x, heights[upper], heights[lower]), kind))
        self.dots.append(Dot(self.coil_x - 6, first + 6, _FILLED, "polarity"))

    def _point(self, terminal: str, volt: float, y: float) -> None:
        kind = Stroke.WINDING if terminal in self.joined else Stroke.UNUSED
        self.lines.append(DrawnLine(self.terminal_x + _TERMINAL, y, self.coil_x, y, kind))
        self.dots.append(Dot(self.terminal_x, y, _TERMINAL, "terminal"))
        text = shortened(terminal, self._room(self.coil_x - 12))
        name = Label(self.terminal_x + 6, y - 4, text, "start", "terminal")
        self.labels.append(name)
        self.labels.append(Label(self.coil_x + _VOLTS, y + 4, f"{volt:.5g} V", "start", "volt"))

    def _room(self, right: float) -> int:
        """How many characters fit from the terminals to here."""
        return int((right - self.terminal_x) / CHARACTER)


def _head(section: Section, live: Span | None, room: int) -> str:
    """The section's name, cut to leave room, and what of its volts is in use."""
    low, high = whole(section)
    named = {
        "name": shortened(section.name, max(14, room - _HEAD_VOLTS)),
        "volt": f"{high - low:.5g}",
    }
    if live is None:
        return _("{name} {volt} V, not used", **named)
    used = f"{live[1] - live[0]:.5g}"
    if used == named["volt"]:
        return _("{name} {volt} V", **named)
    return _("{name} {used} V of {volt} V", used=used, **named)


def shortened(text: str, room: int) -> str:
    """A text cut in its middle, as both ends of a terminal's name tell it from others."""
    if len(text) <= room:
        return text
    end = (room - 1) // 2
    return f"{text[: room - 1 - end]}…{text[len(text) - end :]}"


def _coil(x: float, top: float, bottom: float) -> str:
    """Half circles bulging to the right, one below the other."""
    turns = max(2, round((bottom - top) / _BUMP))
    step = (bottom - top) / turns
    arc = f"a{_BUMP:g} {step / 2:.2f} 0 0 1 0 {step:.2f}"
    return f"M{x:g} {top:g}" + arc * turns
