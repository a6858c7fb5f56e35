"""Lists are paged by a cursor: its cost does not grow with the table."""

from rest_framework.pagination import CursorPagination


class NewestFirst(CursorPagination):
    page_size = 50
    max_page_size = 200
    page_size_query_param = "page_size"
    ordering = ("-id",)
