"""Is it alive? For probes and for the start command."""

from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone

from shop.core.models import Heartbeat


def healthz(request: HttpRequest) -> JsonResponse:
    """200 when the database answers. `worker_seen_seconds` is null until a worker was seen."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
        seen = Heartbeat.objects.filter(name="worker").values_list("seen_at", flat=True).first()
    except DatabaseError:
        return JsonResponse({"ok": False, "database": False}, status=503)
    ago = None if seen is None else int((timezone.now() - seen).total_seconds())
    return JsonResponse({"ok": True, "database": True, "worker_seen_seconds": ago})
