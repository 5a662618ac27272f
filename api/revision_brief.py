"""A picture as it is shown: its file, its renditions. Revisions, sheets and references share it."""

from typing import Any

from django.urls import reverse
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from api.body import POLYGON, json_field
from api.people import PersonSerializer
from board.models import Picture, Revision

CUT_FROM = {
    "type": ["object", "null"],
    "description": "The sheet that it was cut from, and where.",
    "properties": {"sheet": {"type": "integer"}, "polygon": POLYGON},
    "required": ["sheet", "polygon"],
}


PHOTO = {
    "type": ["object", "null"],
    "description": "The photograph that this page was laid flat from: its file, and the corners of the paper on it.",
    "properties": {"file": {"type": "string"}, "corners": POLYGON},
    "required": ["file", "corners"],
}


class RenditionSerializer(serializers.Serializer):
    nominal_px = serializers.IntegerField()
    width_px = serializers.IntegerField()
    height_px = serializers.IntegerField()
    url = serializers.CharField()


class PictureFields(serializers.ModelSerializer):
    """For a row with a `picture`; `route` names its place in the URL conf."""

    route = ""
    picture_fields = ["state", "reason", "width_px", "height_px", "dpi", "media_type", "size_bytes", "sha256", "file", "renditions"]

    width_px = serializers.IntegerField(source="picture.width_px", allow_null=True)
    height_px = serializers.IntegerField(source="picture.height_px", allow_null=True)
    dpi = serializers.FloatField(source="picture.dpi", allow_null=True)
    media_type = serializers.CharField(source="picture.media_type")
    size_bytes = serializers.IntegerField(source="picture.size_bytes")
    sha256 = serializers.CharField(source="picture.sha256")
    file = serializers.SerializerMethodField()
    renditions = serializers.SerializerMethodField()

    def get_file(self, row: Any) -> str:
        return reverse(f"api:{self.route}-file", args=[row.pk])

    def get_renditions(self, row: Any) -> RenditionSerializer(many=True):  # type: ignore[valid-type]
        picture: Picture = row.picture
        return [
            {
                "nominal_px": rendition.nominal_px, "width_px": rendition.width_px, "height_px": rendition.height_px,
                "url": reverse(f"api:{self.route}-rendition", args=[row.pk, rendition.nominal_px]),
            }
            for rendition in picture.renditions.all()
        ]


class RevisionBriefSerializer(PictureFields):
    route = "revision"

    uploaded_by = PersonSerializer(allow_null=True)
    cut_from = json_field(CUT_FROM, read_only=True)
    photo = serializers.SerializerMethodField()

    class Meta:
        model = Revision
        fields = ["id", "page", "number", "stage", "alternate", "panel", *PictureFields.picture_fields, "file_name", "uploaded_by",
                  "uploaded_at", "minutes_spent", "withdrawn_at", "cut_from", "photo"]

    @extend_schema_field(PHOTO)
    def get_photo(self, revision: Revision) -> dict | None:
        if revision.photo_id is None:
            return None
        return {"file": reverse("api:revision-photo", args=[revision.pk]), "corners": revision.photo_corners}
