"""Lists are paged by a cursor: its cost does not grow with the table."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ValidationError
from rest_framework.exceptions import NotFound
from rest_framework.pagination import CursorPagination


class ByCursor(CursorPagination):
    """A cursor that we did not make names a place of no sense: 404, as for one that is no cursor.

    DRF reads a cursor's form and leaves its place to the database field.
    """

    def paginate_queryset(self, queryset: Any, request: Any, view: Any = None) -> Any:
        try:
            return super().paginate_queryset(queryset, request, view)
        except (ValueError, ValidationError) as error:
            if self.cursor_query_param not in request.query_params:
                raise
            raise NotFound(self.invalid_cursor_message) from error


class NewestFirst(ByCursor):
    page_size = 50
    max_page_size = 200
    page_size_query_param = "page_size"
    ordering = ("-id",)
