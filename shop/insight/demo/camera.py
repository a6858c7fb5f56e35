"""Pictures of units that are not there: a sheet of paper that says what would be seen."""

from __future__ import annotations

import hashlib
import io
import textwrap
from typing import Any

from PIL import Image, ImageDraw, ImageFont

from shop.core.models import Person
from shop.repairs.models import Repair
from shop.repairs.services import store_photo

SIZE = (640, 480)
PAPER, INK = "#f3ead7", "#3a322b"


def take_photo(words: str, *, repair: Repair, by: Person) -> dict[str, Any]:
    """Keep a drawn picture with the repair; answers what an entry says of it."""
    content = drawn(f"{repair.unit.make} {repair.unit.model}\n{words}")
    sha256 = hashlib.sha256(content).hexdigest()
    store_photo(sha256=sha256, content=content, repair=repair, by=by)
    width, height = SIZE
    return {
        "sha256": sha256, "width": width, "height": height, "size": len(content),
        "caption": words[:200],
    }  # fmt: skip


def drawn(words: str) -> bytes:
    """A PNG with the words on it: the same words, the same bytes."""
    image = Image.new("RGB", SIZE, PAPER)
    pen = ImageDraw.Draw(image)
    pen.rectangle((16, 16, SIZE[0] - 17, SIZE[1] - 17), outline=INK, width=3)
    lines = [part for line in words.splitlines() for part in textwrap.wrap(line, 32)]
    pen.multiline_text((48, 56), "\n".join(lines), fill=INK, font=ImageFont.load_default(30))
    out = io.BytesIO()
    image.quantize(8).save(out, format="PNG")
    return out.getvalue()
