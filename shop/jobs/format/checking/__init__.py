"""Everything that can be wrong in a template, found before it fails at the bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shop.jobs.format.checking.head import check_head
from shop.jobs.format.checking.procedures import check_procedures
from shop.jobs.format.checking.steps import check_steps
from shop.jobs.format.problems import Findings, Path, Problem, step_at
from shop.jobs.format.revisions import FindProcedure
from shop.jobs.format.schemas import faults


def check_template(
    body: Any,
    lines: Mapping[Path, int] | None = None,
    find_procedure: FindProcedure | None = None,
) -> list[Problem]:
    """All faults of a template; an empty list means that it can be published.

    The rules between its parts are looked at only when its shape is right. Without
    `find_procedure` nothing is claimed about the templates that its steps work.
    """
    found = Findings(lines)
    for path, reason in faults("job-template-1", body):
        found.add(path, reason, step_at(body, path))
    if not found.problems:
        scope = check_head(body, found)
        check_steps(body, scope, found)
        if find_procedure:
            check_procedures(body, found, find_procedure)
    return found.problems
