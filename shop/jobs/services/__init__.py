"""Writes of the jobs: templates, drafts, worksheets, entries."""

from shop.jobs.services.drafts import begin_draft, drop_draft, save_draft
from shop.jobs.services.importing import import_file
from shop.jobs.services.mentions import see_mentions
from shop.jobs.services.queue_files import take_in_queue
from shop.jobs.services.reviewing import publish_draft, review_draft, submit_draft
from shop.jobs.services.sign_offs import sign_off
from shop.jobs.services.syncing import apply_operations
from shop.jobs.services.taking_in import import_template, import_template_file
from shop.jobs.services.templates import (
    bring_back_template,
    publish_revision,
    retire_template,
)
from shop.jobs.services.trying import made_up_repair, made_up_unit, try_draft
from shop.jobs.services.worksheets import start_worksheet, stop_worksheet

__all__ = [
    "apply_operations",
    "begin_draft",
    "bring_back_template",
    "drop_draft",
    "import_file",
    "import_template",
    "import_template_file",
    "made_up_repair",
    "made_up_unit",
    "publish_draft",
    "publish_revision",
    "retire_template",
    "review_draft",
    "save_draft",
    "see_mentions",
    "sign_off",
    "start_worksheet",
    "stop_worksheet",
    "submit_draft",
    "take_in_queue",
    "try_draft",
]
