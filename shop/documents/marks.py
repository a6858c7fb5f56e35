"""Pictures that a paper carries inside itself: codes to scan, signatures, photos."""

from __future__ import annotations

import io
import re
from base64 import b64encode
from typing import Any

import segno
import zxingcpp
from PIL import Image, ImageOps

from shop.documents.errors import DocumentError
from shop.repairs.models import Photo

QUIET_MODULES = 2  # ISO/IEC 16022 asks for one; cheap printers and tilted phones like two
PHOTO_PIXELS = 900
_PATH = re.compile(r'\sd="([MmLlHhVvQqCcSsTtAaZz0-9\s,.eE+-]+)"')
_POINTS = re.compile(r'\spoints="([0-9\s,.eE+-]+)"')
_BOX = re.compile(r'viewBox="([0-9\s.-]+)"')


def data_uri(kind: str, body: bytes) -> str:
    return f"data:{kind};base64,{b64encode(body).decode()}"


def data_matrix(text: str) -> tuple[str, int]:
    """A Data Matrix as an SVG data address, and its width in modules with the quiet zone.

    One unit of the picture is one module, so that a width in whole modules keeps them whole.
    """
    symbol = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.DataMatrix)
    drawn = zxingcpp.write_barcode_to_svg(symbol, add_quiet_zones=False)
    width = re.search(r'<svg width="(\d+)"', drawn)
    path = _PATH.search(drawn)
    if width is None or path is None:
        raise DocumentError(f"no Data Matrix for {text!r}")
    modules, quiet = int(width[1]), QUIET_MODULES
    whole = modules + 2 * quiet
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-quiet} {-quiet} {whole} {whole}" '
        f'shape-rendering="crispEdges"><path d="{path[1]}" fill="#000"/></svg>'
    )
    return data_uri("image/svg+xml", svg.encode()), whole


def qr(text: str) -> str:
    """A QR code as an SVG data address. Never a Micro QR: many phone cameras cannot read it."""
    out = io.BytesIO()
    segno.make(text, micro=False, error="m").save(out, kind="svg", border=4, xmldecl=False)
    return data_uri("image/svg+xml", out.getvalue())


def signature_picture(signature: dict[str, Any] | None) -> str | None:
    """The strokes of a signature and nothing else of what the screen sent."""
    sent = str((signature or {}).get("svg", ""))
    strokes = [f'<path d="{path}"/>' for path in _PATH.findall(sent)]
    strokes += [f'<polyline points="{points}"/>' for points in _POINTS.findall(sent)]
    if not strokes:
        return None
    box = _BOX.search(sent)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box[1] if box else "0 0 600 200"}" '
        'fill="none" stroke="#1b1712" stroke-width="3" stroke-linecap="round" '
        f'stroke-linejoin="round">{"".join(strokes)}</svg>'
    )
    return data_uri("image/svg+xml", svg.encode())


def photo_picture(sha256: str) -> str | None:
    """A photo in the size of a paper, or None while it is still on its way from the phone."""
    photo = Photo.objects.filter(sha256=sha256).first()
    if photo is None:
        return None
    with photo.file.open() as file, Image.open(file) as picture:
        small = ImageOps.exif_transpose(picture).convert("RGB")
        small.thumbnail((PHOTO_PIXELS, PHOTO_PIXELS))
        out = io.BytesIO()
        small.save(out, "JPEG", quality=82)
    return data_uri("image/jpeg", out.getvalue())
