"""Ways in which a repair's changes are refused."""

from django.utils.translation import gettext_lazy as _

from shop.core.errors import ShopError


class AlreadyHere(ShopError):
    code = "already_here"
    title = _("This unit is already in the shop.")


class StageNotAllowed(ShopError):
    code = "stage_not_allowed"
    title = _("The repair cannot go to this stage from where it is.")


class RequirementMissing(ShopError):
    code = "requirement_missing"
    title = _("Something this stage requires is missing.")


class SafetyCheckMissing(RequirementMissing):
    code = "safety_check_missing"
    title = _("No repair becomes ready without a passed electrical safety check.")


class WorksheetsUnfinished(RequirementMissing):
    code = "worksheets_unfinished"
    title = _("A worksheet of this repair is still open or has failed.")


class NotClosedUp(RequirementMissing):
    code = "not_closed_up"
    title = _("A unit that leaves unrepaired leaves closed up and labelled not safe to power.")


class PiecesStillHere(RequirementMissing):
    code = "pieces_missing"
    title = _("Tick off the loose pieces that go back with the unit.")


class PaymentDue(RequirementMissing):
    code = "payment_due"
    title = _("Something is still to be paid.")


class RepairClosed(ShopError):
    code = "repair_closed"
    title = _("This repair is closed.")


class InOthersHands(ShopError):
    code = "in_others_hands"
    title = _("Somebody else has this repair in hand.")


class NotInYourHands(ShopError):
    code = "not_in_your_hands"
    title = _("You can hand over only what you have in hand.")


class PublicUrlMissing(ShopError):
    code = "public_url_missing"
    title = _("No status link can be issued.")


class NotAnImage(ShopError):
    status = 400
    code = "not_an_image"
    title = _("This is no JPEG, PNG or WebP picture.")


class PhotoTooLarge(ShopError):
    status = 400
    code = "photo_too_large"
    title = _("This picture is too large.")


class PhotoHashDiffers(ShopError):
    status = 400
    code = "photo_hash_differs"
    title = _("The picture arrived damaged: its bytes do not fit its name.")


class UploadOffsetDiffers(ShopError):
    """A part does not begin where the parts kept so far end. `expected_offset` says where."""

    code = "upload_offset_differs"
    title = _("This part of the picture does not follow on what is here.")


class PartSizeNotAllowed(ShopError):
    status = 400
    code = "part_size_not_allowed"
    title = _("This part of the picture is too small or too large.")
