"""All addresses: API, app shell, status pages, admin."""

from django.contrib import admin
from django.urls import include, path

from api import health

urlpatterns = [
    path("api/v1/", include("api.v1.urls")),
    path("healthz", health.healthz),
    path("admin/", admin.site.urls),
    path("", include("api.pages.urls")),
]

handler404 = "api.errors.not_found"
handler500 = "api.errors.server_error"
