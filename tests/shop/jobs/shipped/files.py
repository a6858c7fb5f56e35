"""The shipped templates, and how a test takes one in."""

from shop.jobs.services import import_template_file
from shop.jobs.shipped import TEMPLATES


def take_in(slug: str) -> None:
    """Publish a shipped template after the dead working that most of them begin with."""
    for name in ("dead-working", slug):
        import_template_file(path=TEMPLATES / f"{name}.json")
