"""The API's addresses. Each resource lives in its own module."""

from django.urls import include, path, register_converter
from drf_spectacular.views import SpectacularAPIView
from rest_framework.routers import SimpleRouter

from api.v1 import (
    benches,
    board,
    calculators,
    codes,
    customers,
    devices,
    documents,
    estimates,
    find,
    job_templates,
    labels,
    meters,
    model_sheets,
    moves,
    my_bench,
    offered_readings,
    orders,
    parts,
    payments,
    people,
    photo_parts,
    photos,
    pins,
    records,
    repairs,
    session,
    stuck_work,
    sync,
    template_drafts,
    template_shelf,
    template_words,
    units,
    worksheets,
)


class Router(SimpleRouter):
    """Without format suffixes (`close.json`), which reach actions that take none."""

    include_format_suffixes = False

    def __init__(self) -> None:
        super().__init__(use_regex_path=False)


class Sha256:
    """64 hex digits in an address."""

    regex = "[0-9a-f]{64}"
    to_python = to_url = staticmethod(str)


register_converter(Sha256, "sha256")

router = Router()
router.register("customers", customers.CustomerViewSet, basename="customer")
router.register("devices", devices.DeviceViewSet, basename="device")
router.register("model-sheets", model_sheets.ModelSheetViewSet, basename="model-sheet")
router.register("people", people.PeopleViewSet, basename="person")
router.register("repairs", repairs.RepairViewSet, basename="repair")
router.register("units", units.UnitViewSet, basename="unit")

urlpatterns = [
    path("schema/", SpectacularAPIView.as_view()),
    path("csrf/", session.Csrf.as_view()),
    path("session/", session.SessionView.as_view()),
    path("session/pin/", pins.SessionPin.as_view()),
    path("pins/<uuid:id>/", pins.PinDetail.as_view()),
    path("calculators/", calculators.CalculatorList.as_view()),
    path("calculators/<str:name>/", calculators.CalculatorView.as_view()),
    path("benches/", benches.BenchList.as_view()),
    path("benches/<uuid:id>/offered-readings/", offered_readings.OfferedReadings.as_view()),
    path("meters/", meters.MeterList.as_view()),
    path("meters/<uuid:id>/", meters.MeterDetail.as_view()),
    path("meters/<uuid:id>/calibrations/", meters.MeterCalibrations.as_view()),
    path("meters/<uuid:id>/readings/", meters.MeterReadings.as_view()),
    path("meter-rules/", meters.MeterRules.as_view()),
    path("board/", board.BoardView.as_view()),
    path("parts/", parts.Parts.as_view()),
    path("parts/<uuid:id>/", parts.PartDetail.as_view()),
    path("counts/", parts.Counts.as_view()),
    path("moves/", moves.Moves.as_view()),
    path("orders/", orders.Orders.as_view()),
    path("orders/<uuid:id>/", orders.OrderDetail.as_view()),
    path("orders/<uuid:id>/approve/", orders.ApproveOrder.as_view()),
    path("orders/<uuid:id>/drop/", orders.DropOrder.as_view()),
    path("orders/<uuid:id>/receive/", orders.ReceiveOrder.as_view()),
    path("stuck-work/", stuck_work.StuckWork.as_view()),
    path("stuck-work/<uuid:id>/try-again/", stuck_work.TryAgain.as_view()),
    path("codes/", codes.KnownCodes.as_view()),
    path("codes/<path:code>/", codes.CodeView.as_view()),
    path("find/", find.FindView.as_view()),
    path("photos/<sha256:sha256>/", photos.PhotoView.as_view()),
    path("photos/<sha256:sha256>/upload/", photo_parts.PhotoUpload.as_view()),
    path("documents/<uuid:id>/file/", documents.DocumentFile.as_view()),
    path("labels/", labels.Labels.as_view()),
    path("repairs/<uuid:id>/documents/", documents.RepairDocuments.as_view()),
    path("repairs/<uuid:id>/notices/", documents.RepairNotices.as_view()),
    path("repairs/<uuid:id>/estimates/", estimates.RepairEstimates.as_view()),
    path("estimates/<uuid:id>/send/", estimates.EstimateSend.as_view()),
    path("estimates/<uuid:id>/answer/", estimates.EstimateAnswer.as_view()),
    path("repairs/<uuid:id>/account/", payments.RepairAccount.as_view()),
    path("repairs/<uuid:id>/payments/", payments.RepairPayments.as_view()),
    path("repairs/<uuid:id>/invoices/", payments.RepairInvoices.as_view()),
    path("job-templates/", job_templates.JobTemplates.as_view()),
    path("job-templates/<slug:slug>/", job_templates.JobTemplateDetail.as_view()),
    path("job-templates/<slug:slug>/revisions/", template_shelf.Revisions.as_view()),
    path(
        "job-templates/<slug:slug>/revisions/<int:number>/",
        template_shelf.RevisionDetail.as_view(),
    ),
    path("job-templates/<slug:slug>/difference/", template_shelf.Difference.as_view()),
    path("job-templates/<slug:slug>/file/", template_shelf.FileOfTemplate.as_view()),
    path("job-templates/<slug:slug>/retire/", template_shelf.RetireTemplate.as_view()),
    path("job-templates/<slug:slug>/bring-back/", template_shelf.BringBackTemplate.as_view()),
    path("template-shelf/", template_shelf.TemplateShelf.as_view()),
    path("template-words/", template_words.TemplateWords.as_view()),
    path("template-drafts/", template_drafts.TemplateDrafts.as_view()),
    path("template-drafts/<uuid:id>/", template_drafts.TemplateDraftDetail.as_view()),
    path("template-drafts/<uuid:id>/submit/", template_drafts.DraftSubmit.as_view()),
    path("template-drafts/<uuid:id>/review/", template_drafts.DraftReview.as_view()),
    path("template-drafts/<uuid:id>/publish/", template_drafts.DraftPublish.as_view()),
    path("template-drafts/<uuid:id>/difference/", template_drafts.DraftDifference.as_view()),
    path("template-drafts/<uuid:id>/try/", template_drafts.DraftTry.as_view()),
    path("schemas/<slug:name>/", job_templates.SchemaFile.as_view()),
    path("worksheets/", worksheets.Worksheets.as_view()),
    path("worksheets/<uuid:id>/", worksheets.WorksheetDetail.as_view()),
    path("worksheets/<uuid:id>/pack/", worksheets.WorksheetPack.as_view()),
    path("worksheets/<uuid:id>/sign-off/", worksheets.WorksheetSignOff.as_view()),
    path("worksheets/<uuid:id>/stop/", worksheets.WorksheetStop.as_view()),
    path("my-bench/", my_bench.MyBenchView.as_view()),
    path("mentions/seen/", my_bench.MentionsSeen.as_view()),
    path("my-packs/", worksheets.MyPacks.as_view()),
    path("records/<uuid:id>/log/", records.BenchLog.as_view()),
    path("records/<uuid:id>/", records.RecordView.as_view()),
    path("sync/", sync.SyncView.as_view()),
    path("", include(router.urls)),
]
