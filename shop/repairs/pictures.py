"""Pictures from outside: really pictures, not too large, and without the camera's own data."""

from __future__ import annotations

import io
from typing import NamedTuple

from django.conf import settings
from django.utils.translation import gettext as _
from PIL import Image, ImageOps, UnidentifiedImageError

from shop.repairs.errors import NotAnImage, PhotoTooLarge

KINDS = {"JPEG": "jpeg", "MPO": "jpeg", "PNG": "png", "WEBP": "webp"}
# What Pillow reads that tells nothing about place, person or camera. Anything else is taken out.
HARMLESS = {
    *("jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "adobe", "adobe_transform"),
    *("progressive", "progression", "gamma", "srgb", "chromaticity", "transparency", "aspect"),
    *("interlace", "loop", "background", "duration", "timestamp"),
}
JPEG_QUALITY = 85
THUMBNAIL_WIDTHS = (160, 320, 640, 1280)


class Picture(NamedTuple):
    """A picture that may be kept."""

    kind: str  # "jpeg", "png", "webp"
    width: int
    height: int
    content: bytes


def clean_picture(content: bytes) -> Picture:
    """The picture upright and without EXIF, GPS, comments or further frames.

    Bytes that carry none of that are kept as they are. Raises NotAnImage, PhotoTooLarge.
    """
    if len(content) > settings.PHOTO_MAX_BYTES:
        raise PhotoTooLarge(_("A photo has at most 6 MB."))
    image = _opened(content)
    if not _has_more_than_a_picture(image):
        return Picture(KINDS[str(image.format)], image.width, image.height, content)
    return _encoded(image)


def thumbnail(content: bytes, width: int) -> bytes:
    """A JPEG at most so many pixels wide. Raises NotAnImage."""
    image = ImageOps.exif_transpose(_opened(content))
    image.thumbnail((width, width * 4))
    return _jpeg(image)


def thumbnail_width(wanted: int) -> int:
    """The next of the few widths that are made, so that nobody can fill the disk with sizes."""
    return next((width for width in THUMBNAIL_WIDTHS if width >= wanted), THUMBNAIL_WIDTHS[-1])


def _opened(content: bytes) -> Image.Image:
    """Decoded, after its size was looked at: a small file can unfold to gigabytes."""
    try:
        image: Image.Image = Image.open(io.BytesIO(content), formats=("JPEG", "PNG", "WEBP"))
        if image.width * image.height > settings.PHOTO_MAX_PIXELS:
            raise PhotoTooLarge(_("A photo has at most 40 million pixels."))
        image.load()
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
        raise PhotoTooLarge(_("A photo has at most 40 million pixels.")) from bomb
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as broken:
        raise NotAnImage() from broken
    return image


def _has_more_than_a_picture(image: Image.Image) -> bool:
    extra = set(image.info) - HARMLESS
    return bool(extra or image.getexif() or getattr(image, "n_frames", 1) > 1)


def _encoded(image: Image.Image) -> Picture:
    kind = KINDS[str(image.format)]
    upright = ImageOps.exif_transpose(image)
    if kind == "jpeg":
        return Picture(kind, upright.width, upright.height, _jpeg(upright))
    clean = upright.convert(
        "RGBA" if "A" in upright.getbands() or "transparency" in upright.info else "RGB"
    )
    clean.info.clear()
    out = io.BytesIO()
    clean.save(out, format=kind.upper())
    return Picture(kind, clean.width, clean.height, out.getvalue())


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    flat = image.convert("RGB")
    flat.info.clear()  # else a comment would be written out again
    flat.save(out, format="JPEG", quality=JPEG_QUALITY, optimize=True)
    return out.getvalue()
