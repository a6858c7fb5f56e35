"""The PWA's shell: public, without data, the same bytes for everybody."""

from __future__ import annotations

from django.conf import settings
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

NOT_BUILT = "The app is not built yet. Run: python3 deploy/run.py"


def _built(name: str, kind: str) -> HttpResponse | FileResponse:
    file = settings.APP_DIST / name
    if not file.is_file():
        if name == "index.html":
            return HttpResponse(NOT_BUILT, status=503, content_type="text/plain")
        raise Http404(name)
    answer = HttpResponse(file.read_bytes(), content_type=kind)
    answer["Cache-Control"] = "no-cache"
    return answer


@require_safe
def shell(request: HttpRequest) -> HttpResponse | FileResponse:
    return _built("index.html", "text/html; charset=utf-8")


@require_safe
def service_worker(request: HttpRequest) -> HttpResponse | FileResponse:
    return _built("sw.js", "text/javascript; charset=utf-8")


@require_safe
def web_manifest(request: HttpRequest) -> HttpResponse | FileResponse:
    return _built("manifest.webmanifest", "application/manifest+json")
