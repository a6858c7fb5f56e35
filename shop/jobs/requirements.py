"""What stages require of the jobs. Registered by name with the table of stages."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.jobs.models import Worksheet
from shop.jobs.selectors import changed_since, passed_safety_check
from shop.repairs.models import Repair
from shop.repairs.stages import requirement


@requirement("safety_check_passed")
def safety_check_passed(repair: Repair) -> str | None:
    """A passed electrical safety check that is newer than the last work on the unit."""
    check = passed_safety_check(repair)
    if check is None:
        return _("The electrical safety check has not passed.")
    if changed_since(check):
        return _("Work was done on the unit after the electrical safety check: check it again.")
    return None


@requirement("worksheets_passed")
def worksheets_passed(repair: Repair) -> str | None:
    """No worksheet of the repair is open or failed."""
    stages = (Worksheet.Stage.OPEN, Worksheet.Stage.FAILED)
    left = repair.worksheets.filter(stage__in=stages).select_related("revision__template")
    titles = ", ".join(w.revision.template.title for w in left.defer("pack", "revision__body"))
    return _("Worksheets that have not passed: %s.") % titles if titles else None
