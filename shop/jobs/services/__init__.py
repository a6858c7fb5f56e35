"""Writes of the jobs: templates, worksheets, entries."""

from shop.jobs.services.sign_offs import sign_off
from shop.jobs.services.syncing import apply_operations
from shop.jobs.services.templates import (
    import_template,
    import_template_file,
    publish_revision,
    retire_template,
)
from shop.jobs.services.worksheets import start_worksheet, stop_worksheet

__all__ = [
    "apply_operations",
    "import_template",
    "import_template_file",
    "publish_revision",
    "retire_template",
    "sign_off",
    "start_worksheet",
    "stop_worksheet",
]
