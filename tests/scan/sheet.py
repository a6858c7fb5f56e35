"""Pictures side by side, each with what became of it: to judge by eye what one could read."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw

from tests.scan.kinds import STRENGTHS
from tests.scan.rate import Result
from tests.scan.shots import FRAME

CROP = (640, 380)
CELL = (400, 254)


def contact_sheet(results: list[Result], folder: Path) -> Image.Image:
    """One row a kind, from weak to strong, of the first label."""
    first = results[0].case.label.code
    shown = [one for one in results if one.case.label.code == first]
    rows = -(-len(shown) // STRENGTHS)
    sheet = Image.new("L", (STRENGTHS * CELL[0], rows * CELL[1]), 255)
    for number, one in enumerate(shown):
        row, column = divmod(number, STRENGTHS)
        _place(sheet, one, folder, (column * CELL[0], row * CELL[1]))
    return sheet


def _place(sheet: Image.Image, one: Result, folder: Path, at: tuple[int, int]) -> None:
    left, top = ((whole - part) // 2 for whole, part in zip(FRAME, CROP, strict=True))
    with Image.open(folder / f"{one.case.name}.pgm") as picture:
        middle = picture.crop((left, top, left + CROP[0], top + CROP[1]))
    sheet.paste(middle.resize((CELL[0], CELL[1] - 16)), (at[0], at[1] + 16))
    verdict = f"{'read' if one.read else 'NOT READ'}, {one.because or 'legible'}"
    ImageDraw.Draw(sheet).text((at[0] + 4, at[1] + 2), f"{one.case.name}: {verdict}", fill=0)
