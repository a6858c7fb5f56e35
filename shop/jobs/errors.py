"""Ways in which job templates, worksheets and entries say no."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext_lazy as _

from shop.core.errors import ShopError
from shop.jobs.format.problems import Problem


class TemplateFaulty(ShopError):
    """The template fails its checks. `problems` say where and why."""

    status = 400
    code = "template_faulty"
    title = _("The job template has faults.")

    def __init__(self, problems: Sequence[Problem]) -> None:
        rows = [
            {"field": p.field or "template", "code": "template_faulty", "detail": str(p)}
            for p in problems
        ]
        super().__init__("; ".join(str(p) for p in problems[:5]), errors=rows)
        self.problems = list(problems)


class DraftFaulty(TemplateFaulty):
    """What was sent is in order; the draft it is about has faults."""

    status = 409


class NotAtThisStage(ShopError):
    code = "not_at_this_stage"
    title = _("The draft is not at the stage for this. Look again.")


class DraftPublished(ShopError):
    code = "draft_published"
    title = _("This draft was published and is not changed any more.")


class NewerRevisionPublished(ShopError):
    """`newest` is the number of the revision that the draft does not know yet."""

    code = "newer_revision_published"
    title = _("A newer revision was published meanwhile. Take its changes into the draft first.")


class NothingChanged(ShopError):
    code = "nothing_changed"
    title = _("The draft says the same as the published revision.")


class ReviewNeedsOtherPerson(ShopError):
    code = "review_needs_other_person"
    title = _("Somebody who did not write on this draft must review it.")


class SlugTaken(ShopError):
    code = "slug_taken"
    title = _("A job template of this name exists. Change that one, or take another name.")


class NoSuchTemplate(ShopError):
    status = 404
    code = "no_such_template"
    title = _("There is no published job template of this name.")


class Gate(ShopError):
    code = "gate"
    title = _("This job template is not for this unit.")


class FactsMissing(ShopError):
    code = "facts_missing"
    title = _("Something must be known before this can start.")

    def __init__(self, missing: Sequence[tuple[str, str]]) -> None:
        rows = [{"field": f, "code": "missing", "detail": detail} for f, detail in missing]
        super().__init__(" ".join(detail for _field, detail in missing), errors=rows)


class RepairClosed(ShopError):
    code = "repair_closed"
    title = _("This repair is closed.")


class WorksheetStopped(ShopError):
    code = "worksheet_stopped"
    title = _("This worksheet was stopped.")


class SignOffNeedsOtherPerson(ShopError):
    code = "sign_off_needs_other_person"
    title = _("Somebody else than who did the work must sign here.")


class SignOffNeedsRole(ShopError):
    code = "sign_off_needs_role"
    title = _("Your role may not sign here.")


class StepLocked(ShopError):
    code = "step_locked"
    title = _("A safety step before this one is not settled.")


class UnknownStep(ShopError):
    code = "unknown_step"
    title = _("This worksheet has no such step.")


# Refusals of single entries. What is refused stays on the phone, marked, until its maker mends it.


class BadEntry(ShopError):
    code = "bad_entry"
    title = _("This entry cannot be read.")


class FormatNotKnown(ShopError):
    status = 400
    code = "format_not_known"
    title = _("This app is too old or too new for the shop. Load it again.")


class NotYourLogin(ShopError):
    code = "not_your_login"
    title = _("Somebody else made this entry and has to sign in to send it.")


class OtherContent(ShopError):
    code = "other_content"
    title = _("This was sent before with other content.")


class WrongReplaces(ShopError):
    code = "wrong_replaces"
    title = _("What this corrects is not what stands now. Look again.")


class ValueUnreadable(ShopError):
    code = "value_unreadable"
    title = _("The value cannot be read as this quantity.")


class MeterOverdue(ShopError):
    code = "meter_overdue"
    title = _("This meter is overdue for calibration and may not be used for this.")


class SkipNotAllowed(ShopError):
    code = "skip_not_allowed"
    title = _("This step cannot be skipped.")


class SignOffOnlineOnly(ShopError):
    code = "sign_off_online_only"
    title = _("Signing off needs the network.")


class HeldBack(ShopError):
    code = "held_back"
    title = _("An entry before this one was refused.")
