"""What is not JSON: the app's shell and the customer's status pages."""

from django.urls import path, re_path
from django.views.generic import RedirectView

from api.pages import app

urlpatterns = [
    path("", RedirectView.as_view(url="/app/")),
    path("app/sw.js", app.service_worker),
    path("app/manifest.webmanifest", app.web_manifest),
    re_path(r"^app(?:/.*)?$", app.shell),
]
