"""The record to look at. Nothing here can be added, changed or deleted: the chains would break."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from shop.jobs.models import Draft, Entry, JobTemplate, Revision, Worksheet


class ReadOnly(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(JobTemplate)
class JobTemplateAdmin(ReadOnly):
    list_display = ("slug", "title", "origin", "retired_at")


@admin.register(Revision)
class RevisionAdmin(ReadOnly):
    list_display = ("template", "number", "published_at", "published_by", "reviewed_by")
    list_select_related = ("template", "published_by", "reviewed_by")


@admin.register(Draft)
class DraftAdmin(ReadOnly):
    list_display = ("slug", "stage", "origin", "updated_by", "updated_at", "reviewed_by")
    list_filter = ("stage", "origin")
    list_select_related = ("updated_by", "reviewed_by")


@admin.register(Worksheet)
class WorksheetAdmin(ReadOnly):
    list_display = ("id", "repair", "revision", "stage", "opened_by", "opened_at")
    list_filter = ("stage",)
    list_select_related = ("repair", "revision", "opened_by")
    exclude = ("pack",)


@admin.register(Entry)
class EntryAdmin(ReadOnly):
    list_display = ("record", "seq", "kind", "step", "verdict", "made_by", "received_at")
    list_filter = ("kind", "verdict")
    list_select_related = ("made_by",)
    search_fields = ("=record", "step")
    show_full_result_count = False
