"""Photos by the SHA-256 of their bytes: raw pictures in, pictures out, to staff only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import IO, Any

from django.conf import settings
from django.http import HttpResponse
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.generics import get_object_or_404
from rest_framework.parsers import BaseParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsBench, IsStaff, person_of
from api.rendering import JsonOnly
from shop.core.errors import BadField, NotAllowed
from shop.repairs.errors import NotAnImage, PhotoTooLarge
from shop.repairs.models import Photo, Repair
from shop.repairs.pictures import thumbnail_width
from shop.repairs.selectors import repairs_visible_to
from shop.repairs.services import make_thumbnail, store_photo

KEEP = "private, max-age=31536000, immutable"  # its address names its bytes


class RawBody(BaseParser):
    """The body as it came, whatever it calls itself, read no further than a photo may be large."""

    media_type = "*/*"

    def parse(
        self,
        stream: IO[Any],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        body: bytes = stream.read(settings.PHOTO_MAX_BYTES + 1)
        if len(body) > settings.PHOTO_MAX_BYTES:
            raise PhotoTooLarge()
        return body


class BytesDecide(JsonOnly):
    """Whether it is a picture is seen from its bytes, not from its header."""

    def select_parser(self, request: Any, parsers: Any) -> Any:
        return parsers[0]


class PhotoOut(serializers.ModelSerializer[Photo]):
    class Meta:
        model = Photo
        fields = ["sha256", "width", "height", "size"]
        read_only_fields = fields


class RepairOfPhotoIn(serializers.Serializer[Any]):
    repair = serializers.UUIDField(required=False)


def repair_of_photo(request: Request) -> Repair | None:
    """The repair a photo belongs to. Pictures of none are for who writes at the bench."""
    asked = RepairOfPhotoIn(data=request.query_params)
    asked.is_valid(raise_exception=True)
    wanted = asked.validated_data.get("repair")
    if wanted is None:
        if person_of(request).role not in IsBench.roles:
            raise NotAllowed()
        return None
    repair = repairs_visible_to(request.user).filter(id=wanted).first()
    if repair is None:
        raise BadField("repair", _("There is no such repair."), "does_not_exist")
    return repair


@extend_schema(tags=["photos"])
class PhotoView(APIView):
    permission_classes = [IsStaff]
    parser_classes = [RawBody]
    content_negotiation_class = BytesDecide

    @extend_schema(
        parameters=[OpenApiParameter("repair", OpenApiTypes.UUID)],
        request=dict.fromkeys(("image/jpeg", "image/png", "image/webp"), OpenApiTypes.BINARY),
        responses={200: PhotoOut, 201: PhotoOut},
    )
    def put(self, request: Request, sha256: str) -> Response:
        """Keep a photo of a repair; without one, a picture for job templates and model sheets.

        The same bytes again change nothing (200).
        """
        repair = repair_of_photo(request)
        content = request.data
        if not isinstance(content, bytes):  # an empty body is not parsed at all
            raise NotAnImage()
        photo, created = store_photo(
            sha256=sha256, content=content, repair=repair, by=person_of(request)
        )
        return Response(PhotoOut(photo).data, status=201 if created else 200)

    @extend_schema(
        parameters=[OpenApiParameter("width", OpenApiTypes.INT)],
        responses={(200, "image/*"): OpenApiTypes.BINARY},
    )
    def get(self, request: Request, sha256: str) -> HttpResponse:
        """The photo, or a smaller JPEG of it at least `width` pixels wide."""
        photo = get_object_or_404(Photo, sha256=sha256)
        width = WidthIn(data=request.query_params)
        width.is_valid(raise_exception=True)
        wanted = width.validated_data["width"]
        if wanted is None or wanted >= photo.width:
            with photo.file.open("rb") as file:
                return _picture(file.read(), photo.kind, sha256)
        small = make_thumbnail(photo=photo, width=thumbnail_width(wanted))
        return _picture(small, "jpeg", sha256)


class WidthIn(serializers.Serializer[Any]):
    width = serializers.IntegerField(min_value=16, max_value=10_000, default=None, allow_null=True)


def _picture(content: bytes, kind: str, sha256: str) -> HttpResponse:
    answer = HttpResponse(content, content_type=f"image/{kind}")
    answer["Content-Disposition"] = f'inline; filename="{sha256[:12]}.{kind}"'
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Security-Policy"] = "default-src 'none'; sandbox"
    answer["Cache-Control"] = KEEP
    return answer
