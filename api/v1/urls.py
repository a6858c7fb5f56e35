"""The API's addresses. Each resource lives in its own module."""

from django.urls import path
from drf_spectacular.views import SpectacularAPIView

from api.v1 import session

urlpatterns = [
    path("schema/", SpectacularAPIView.as_view()),
    path("csrf/", session.Csrf.as_view()),
    path("session/", session.SessionView.as_view()),
]
