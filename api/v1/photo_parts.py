"""Photos in parts, for links that drop.

Field names and behaviour follow the IETF draft "Resumable Uploads for HTTP" (Upload-Offset,
Upload-Complete, Upload-Limit, `application/partial-upload`). One thing is simpler: what is sent is
known by its hash, so the address is there before the first part and nothing has to be created.
"""

from __future__ import annotations

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from api.v1.photos import BytesDecide, PhotoOut, RawBody, repair_of_photo
from shop.core.errors import BadField
from shop.repairs.models import Photo
from shop.repairs.services import kept_offset, receive_part
from shop.repairs.services.photo_parts import LARGEST_PART, SMALLEST_PART

LIMITS = f"min-append-size={SMALLEST_PART}, max-append-size={LARGEST_PART}"
_OFFSET = OpenApiParameter(
    "Upload-Offset", OpenApiTypes.INT, OpenApiParameter.HEADER, required=True,
    description="Bytes of the photo before this part.",
)  # fmt: skip
_COMPLETE = OpenApiParameter(
    "Upload-Complete", OpenApiTypes.STR, OpenApiParameter.HEADER, enum=["?0", "?1"],
    description="?1 with the last part.",
)  # fmt: skip


class UploadOut(serializers.Serializer[Any]):
    """How far a photo has come; the photo itself once it is whole."""

    offset = serializers.IntegerField()
    complete = serializers.BooleanField()
    photo = PhotoOut(required=False)


class UploadIn(serializers.Serializer[Any]):
    offset = serializers.IntegerField(min_value=0, max_value=2**31 - 1)
    complete = serializers.ChoiceField(["?0", "?1"])


@extend_schema(tags=["photos"])
class PhotoUpload(APIView):
    permission_classes = [IsStaff]
    parser_classes = [RawBody]
    content_negotiation_class = BytesDecide

    @extend_schema(responses=UploadOut)
    def get(self, request: Request, sha256: str) -> Response:
        """Where to go on: how many bytes came from who asks. HEAD says it in headers alone."""
        photo = Photo.objects.filter(sha256=sha256).first()
        kept = photo.size if photo else kept_offset(sha256=sha256, by=person_of(request))
        return _answer(photo, kept)

    @extend_schema(
        parameters=[OpenApiParameter("repair", OpenApiTypes.UUID), _OFFSET, _COMPLETE],
        request={"application/partial-upload": OpenApiTypes.BINARY},
        responses=UploadOut,
    )
    def patch(self, request: Request, sha256: str) -> Response:
        """Add a part where the last one ended; the last part makes the photo.

        A part that begins elsewhere is refused (409 `upload_offset_differs`, `expected_offset`).
        Parts have 16 kB to 1 MB, the last one may be smaller. Left lying a day, they are dropped.
        A photo that is here already, from whomever, is complete at once.
        """
        repair = repair_of_photo(request)
        asked = UploadIn(
            data={
                "offset": request.headers.get("Upload-Offset"),
                "complete": request.headers.get("Upload-Complete", "?0"),
            }
        )
        if not asked.is_valid():
            name, said = next(iter(asked.errors.items()))
            raise BadField(f"Upload-{name.title()}", said[0])
        content = request.data if isinstance(request.data, bytes) else b""  # empty: not parsed
        photo, offset = receive_part(
            sha256=sha256,
            offset=asked.validated_data["offset"],
            content=content,
            is_last=asked.validated_data["complete"] == "?1",
            by=person_of(request),
            repair=repair,
        )
        return _answer(photo, offset)


def _answer(photo: Photo | None, offset: int) -> Response:
    said: dict[str, Any] = {"offset": offset, "complete": photo is not None}
    if photo:
        said["photo"] = PhotoOut(photo).data
    answer = Response(said)
    answer["Upload-Offset"] = str(offset)
    answer["Upload-Complete"] = "?1" if photo else "?0"
    answer["Upload-Limit"] = LIMITS
    answer["Cache-Control"] = "no-store"
    return answer
