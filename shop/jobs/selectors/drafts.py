"""Reads of drafts: what is wrong in one, and who may do what with it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from shop.core.models import Person, Role
from shop.core.selectors import active_people
from shop.jobs.format import Problem, check_template
from shop.jobs.format.keeping import uncounted_numbers
from shop.jobs.models import Draft, JobTemplate, Revision
from shop.jobs.selectors.templates import (
    find_procedure,
    name_of,
    newest_revisions,
    open_worksheets_by_template,
    shelf_row,
)

BENCH = (Role.TECH, Role.MANAGER)
SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_PEOPLE = ("created_by", "updated_by", "submitted_by", "reviewed_by")


def drafts_in_full() -> QuerySet[Draft]:
    """Every draft, also published ones, with all that its row needs."""
    return Draft.objects.select_related(*_PEOPLE, "based_on", "revision")


def open_drafts() -> QuerySet[Draft]:
    """Drafts that are still being worked on, without their bodies, the last changed first."""
    unpublished = Draft.objects.exclude(stage=Draft.Stage.PUBLISHED)
    return unpublished.select_related("updated_by").defer("body").order_by("-updated_at", "id")


def newest_of(slug: str) -> Revision | None:
    """The newest revision of a template, retired or not."""
    return Revision.objects.filter(template_id=slug).order_by("-number").first()


# What is wrong


def problems_in(body: dict[str, Any], *, slug: str, based_on: Revision | None) -> list[Problem]:
    """Everything that keeps a draft from being published: in the format, and in this shop."""
    return [
        *check_template(body, find_procedure=find_procedure),
        *uncounted_numbers(body),
        *_wrong_name(body, slug, based_on),
    ]


def problems_of(draft: Draft) -> list[Problem]:
    return problems_in(draft.body, slug=draft.slug, based_on=draft.based_on)


def _wrong_name(body: dict[str, Any], slug: str, based_on: Revision | None) -> Iterator[Problem]:
    named = body.get("slug")
    if based_on and named != based_on.template_id:
        yield Problem(("slug",), _("A published job template keeps its short name: %s.") % slug)
    if based_on is None and _is_taken(named):
        yield Problem(("slug",), _("Another job template has this short name."))


def _is_taken(slug: Any) -> bool:
    return isinstance(slug, str) and JobTemplate.objects.filter(slug=slug).exists()


# Who may


def reviewers_of(draft: Draft) -> QuerySet[Person]:
    """Everybody active who could review: people of the bench who wrote nothing of it."""
    return active_people().filter(role__in=BENCH).exclude(id__in=draft.editors.values("id"))


def why_not_review(draft: Draft, person: Person) -> str | None:
    """Why this person may not review the draft now; None if they may."""
    if person.role not in BENCH:
        return _("A tech or the manager reviews job templates.")
    if draft.stage != Draft.Stage.IN_REVIEW:
        return _("The draft is not waiting for a review.")
    if draft.editors.filter(id=person.id).exists():
        return _("You wrote on this draft; somebody else must review it.")
    return None


def why_not_publish(draft: Draft, person: Person, problems: list[Problem]) -> str | None:
    """Why this person may not publish the draft now; None if they may."""
    if person.role != Role.MANAGER:
        return _("The manager publishes job templates.")
    if draft.stage == Draft.Stage.PUBLISHED:
        return _("It is published.")
    if draft.stage != Draft.Stage.REVIEWED and reviewers_of(draft).exists():
        return _("Somebody who did not write on it must review it first.")
    if problems:
        return _("It has faults.")
    newest = newest_of(draft.slug)
    if newest and newest.id != draft.based_on_id:
        return _("A newer revision was published meanwhile.")
    return None


def draft_short(draft: Draft) -> dict[str, Any]:
    """A draft as the shelf shows it."""
    names = ("id", "slug", "title", "stage", "origin", "updated_at", "faults")
    row = {name: getattr(draft, name) for name in names}
    return {**row, "updated_by_name": name_of(draft.updated_by)}


def shelf_rows(language: str) -> list[dict[str, Any]]:
    """Every template with its drafts, by title; then the drafts of what was never published."""
    drafts: dict[str, list[dict[str, Any]]] = {}
    for draft in open_drafts():
        drafts.setdefault(draft.slug, []).append(draft_short(draft))
    worked = open_worksheets_by_template()
    rows = [
        {**shelf_row(revision, language), "open_worksheets": worked.get(revision.template_id, 0)}
        for revision in newest_revisions()
    ]
    rows.sort(key=lambda row: str(row["title"]).casefold())
    for row in rows:
        row["drafts"] = drafts.pop(row["slug"], [])
    return rows + [_unpublished(slug, found) for slug, found in drafts.items()]


def _unpublished(slug: str, drafts: list[dict[str, Any]]) -> dict[str, Any]:
    """A row of the shelf for a template that has drafts only."""
    newest = drafts[0]
    return {
        "slug": slug, "title": newest["title"], "summary": "", "role": None,
        "origin": newest["origin"], "revision": None, "published_at": None, "retired_at": None,
        "retired_reason": "", "open_worksheets": 0, "steps": 0, "drafts": drafts,
    }  # fmt: skip


def draft_row(draft: Draft, person: Person) -> dict[str, Any]:
    """A draft in full, as this person sees it."""
    problems = problems_of(draft)
    newest = newest_of(draft.slug)
    names = (
        "id", "slug", "title", "stage", "version", "body", "origin", "created_at", "updated_at",
        "submitted_at", "submit_note", "reviewed_at", "review_note",
    )  # fmt: skip
    return {
        **{name: getattr(draft, name) for name in names},
        **{f"{name}_name": name_of(getattr(draft, name)) for name in _PEOPLE},
        **_may(draft, person, problems),
        "problems": [problem_row(problem) for problem in problems],
        "based_on": draft.based_on.number if draft.based_on else None,
        "newest": newest.number if newest else None,
        "published_as": draft.revision.number if draft.revision else None,
    }


def _may(draft: Draft, person: Person, problems: list[Problem]) -> dict[str, Any]:
    not_review = why_not_review(draft, person)
    not_publish = why_not_publish(draft, person, problems)
    is_open = person.role in BENCH and draft.stage != Draft.Stage.PUBLISHED
    return {
        "may": {
            "edit": is_open,
            "submit": is_open and draft.stage == Draft.Stage.DRAFT and not problems,
            "review": not_review is None,
            "publish": not_publish is None,
        },
        "why_not_review": not_review,
        "why_not_publish": not_publish,
    }


def problem_row(problem: Problem) -> dict[str, Any]:
    return {
        "path": list(problem.path),
        "field": problem.field,
        "step": problem.step,
        "reason": problem.reason,
    }
