"""Where a repair stands, as its customer would say it."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.repairs.models import Stage

# One sentence that says what is so, and one that says what happens next or is waited for.
STAGE_SENTENCES = {
    Stage.BOOKED_IN: (
        _("It is here and waits for its turn."),
        _("A tech will look it over. You need do nothing."),
    ),
    Stage.LOOKING_OVER: (
        _("A tech is looking it over."),
        _("Then we know what is wrong and what it will cost."),
    ),
    Stage.AWAITING_GO_AHEAD: (
        _("We know what it will cost and wait for your go-ahead."),
        _("Nothing more is done until you have answered."),
    ),
    Stage.ON_THE_BENCH: (
        _("It is being worked on."),
        _("You need do nothing."),
    ),
    Stage.AWAITING_PARTS: (
        _("We wait for parts."),
        _("Work goes on when they have arrived. You need do nothing."),
    ),
    Stage.AWAITING_OTHER: (
        _("We wait for an answer from outside."),
        _("Work goes on when we have it. You need do nothing."),
    ),
    Stage.ON_TEST: (
        _("The work is done and it is being tested."),
        _("It becomes ready when it has passed, its safety check included."),
    ),
    Stage.READY: (
        _("It is ready to fetch."),
        _("It has passed its tests, the electrical safety check included."),
    ),
    Stage.HANDED_BACK: (_("It was handed back."), ""),
    Stage.DECLINED: (
        _("It will not be repaired, as you decided."),
        _("It can be fetched once we have closed it up."),
    ),
    Stage.BEYOND_REPAIR: (
        _("It cannot be repaired."),
        _("It can be fetched once we have closed it up."),
    ),
    Stage.UNCLAIMED: (
        _("It still waits to be fetched."),
        _("Please fetch it, or call us."),
    ),
    Stage.DISPOSED: (_("It was disposed of by the terms of the shop."), ""),
}
