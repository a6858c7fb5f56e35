"""Draws a template as PDF, from the project's own assets and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

from django.template.loader import render_to_string

from shop.documents.errors import DocumentError

# Fonts are loaded into what all drawings of a process share. Threads would gain nothing anyway.
_one_at_a_time = Lock()
ASSETS = Path(__file__).resolve().parent / "assets"


@cache
def _font_configuration() -> Any:
    # One for the whole process: each further one keeps a quarter of a megabyte for ever.
    from weasyprint.text.fonts import FontConfiguration

    return FontConfiguration()


@cache
def _asset_fetcher() -> Any:
    from weasyprint.urls import URLFetcher

    class AssetFetcher(URLFetcher):  # type: ignore[misc, unused-ignore]  # it has no types
        """Files below assets/ and pictures inside the page; nothing from any network."""

        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            parts = urlsplit(url)
            if parts.scheme == "data":
                return super().fetch(url, headers)
            path = Path(url2pathname(parts.path)).resolve()
            if parts.scheme != "file" or not path.is_relative_to(ASSETS):
                raise ValueError("not below assets/")
            return super().fetch(url, headers)

    return AssetFetcher(
        fail_on_errors=True, allowed_protocols={"data", "file"}, allow_redirects=False
    )


def draw(template: str, context: Mapping[str, object], *, variant: str | None = None) -> bytes:
    """Draw a document template as PDF. The context holds values already worked out.

    Raises DocumentError when an asset or a picture is missing: an error, not a gap.
    """
    # Here and not above: it costs 50 MB, and only the worker draws.
    from weasyprint import HTML
    from weasyprint.urls import FatalURLFetchingError

    page = HTML(
        string=render_to_string(template, dict(context)),
        base_url=f"{ASSETS.as_uri()}/",
        url_fetcher=_asset_fetcher(),
    )
    try:
        with _one_at_a_time:
            pdf: bytes = page.write_pdf(font_config=_font_configuration(), pdf_variant=variant)
    except FatalURLFetchingError as error:  # a BaseException: no other handler would see it
        raise DocumentError(f"{template}: {error}") from error
    return pdf
