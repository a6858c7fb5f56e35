"""What is not JSON: the app's shell and the customer's status pages."""

from django.urls import path, re_path
from django.views.generic import RedirectView

from api.pages import app, status

urlpatterns = [
    path("", RedirectView.as_view(url="/app/", query_string=True)),
    # Without the slash the address lies outside the scope of the service worker.
    path("app", RedirectView.as_view(url="/app/", query_string=True)),
    path("app/sw.js", app.service_worker),
    path("app/manifest.webmanifest", app.web_manifest),
    re_path(r"^app/.*$", app.shell),
    path("robots.txt", status.robots),
    path("s/<str:token>/", status.page),
    path("s/<str:token>/answer/", status.answer),
    path("s/<str:token>/report.pdf", status.report),
]
