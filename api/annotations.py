"""Notes as an AnnotationCollection of the Web Annotation Data Model (section 5), in pages; replies follow their note."""

from collections.abc import Sequence

from django.utils.http import urlencode
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.note_filters import BoardNoteFilters
from api.note_shape import current_of, places_now, whole_notes
from api.picture_answers import AnyAccept
from api.web_annotation import CONTEXT, Node, annotation_of_note, annotation_of_reply
from board.access import access_board, access_note, visible_notes, visible_revisions
from board.errors import NotFound, NotValid
from board.models import Note, Reply, Revision

MEDIA_TYPE = 'application/ld+json; profile="http://www.w3.org/ns/anno.jsonld"'
ON_A_PAGE = 100


class WebAnnotationRenderer(JSONRenderer):
    media_type = MEDIA_TYPE
    format = "jsonld"


class AnnotationEndpoint(Endpoint):
    content_negotiation_class = AnyAccept
    renderer_classes = [WebAnnotationRenderer]
    media_types = ("application/ld+json",)

    def address(self, path: str) -> str:
        return self.request.build_absolute_uri(path)

    def annotations(self, notes: Sequence[Note]) -> dict[int, Node]:
        """Note id -> its annotation, on the picture where the note stands now."""
        places = places_now(notes, current_of(notes))
        wanted = {places[note.pk]["revision"] if note.pk in places else note.revision_id for note in notes}
        shown = visible_revisions(self.seat).select_related("picture").in_bulk([pk for pk in wanted if pk])
        return {note.pk: self._annotation(note, places.get(note.pk), shown) for note in notes}

    def _annotation(self, note: Note, place: dict | None, shown: dict[int, Revision]) -> Node:
        place = place or {"revision": note.revision_id, "region": note.region, "lines": note.lines}
        revision = shown.get(place["revision"]) if place["revision"] else None
        return annotation_of_note(note, revision, place, self.address)


class PartOfCollection(serializers.Serializer):
    part = serializers.IntegerField(min_value=0, max_value=1_000_000)


class BoardAnnotations(AnnotationEndpoint):
    """A board's notes as W3C Web Annotations. Without `part` the collection, with `part=0, 1, …` its pages."""

    lists = True
    queryset = Note.objects.none()
    filterset_class = BoardNoteFilters
    pagination_class = None
    reach = access_board
    parameters = {"GET": [OpenApiParameter("part", int, description="A page of the collection, from 0.")]}

    def get(self, request: Request, pk: int) -> Response:
        notes = self.filter_queryset(visible_notes(self.seat)).order_by("page__number", "pk")
        members = members_of(list(notes.values_list("pk", flat=True)))
        if "part" not in request.query_params:
            return Response(self._collection(members))
        asked = PartOfCollection(data={"part": request.query_params["part"]})
        if not asked.is_valid():
            raise NotValid("A part is a number, from 0.")
        page = self._page(asked.validated_data["part"], members)
        return Response({"@context": CONTEXT, **page, "partOf": self._about(len(members))})

    def _iri(self, part: int | None = None) -> str:
        asked: dict[str, str | int] = {name: str(value) for name, value in self.request.query_params.items() if name != "part"}
        query = urlencode(asked if part is None else {**asked, "part": part})
        return self.address(f"{self.request.path}{'?' if query else ''}{query}")

    def _about(self, total: int) -> Node:
        return {"id": self._iri(), "type": "AnnotationCollection", "label": self.seat.board.title, "total": total}

    def _collection(self, members: Sequence[tuple[int, Reply | None]]) -> Node:
        """5.1, its first page within it, so that a small board is one file; one with nothing in it has no pages."""
        whole = {"@context": CONTEXT, **self._about(len(members))}
        last = self._iri((len(members) - 1) // ON_A_PAGE)
        return {**whole, "first": self._page(0, members), "last": last} if members else whole

    def _page(self, part: int, members: Sequence[tuple[int, Reply | None]]) -> Node:
        """5.2."""
        start = part * ON_A_PAGE
        here = members[start : start + ON_A_PAGE]
        if not here:
            raise NotFound("This collection has no such part.")
        notes = {note.pk: note for note in whole_notes(Note.objects.filter(pk__in={pk for pk, _ in here}))}
        annotations = self.annotations(list(notes.values()))
        items = [annotation_of_reply(reply, notes[pk], self.address) if reply else annotations[pk] for pk, reply in here]
        page: Node = {"id": self._iri(part), "type": "AnnotationPage", "startIndex": start, "items": items}
        if start + ON_A_PAGE < len(members):
            page["next"] = self._iri(part + 1)
        if part:
            page["prev"] = self._iri(part - 1)
        return page


def members_of(notes: Sequence[int]) -> list[tuple[int, Reply | None]]:
    """(note id, None) for a note, then (note id, reply) for each of its replies."""
    replies: dict[int, list[Reply]] = {}
    for reply in Reply.objects.filter(note__in=notes).select_related("author"):
        replies.setdefault(reply.note_id, []).append(reply)
    return [(pk, reply) for pk in notes for reply in (None, *replies.get(pk, ()))]


class NoteAnnotation(AnnotationEndpoint):
    """One note as a W3C Web Annotation; with `reply=` one of its replies, an annotation on that annotation."""

    reach = access_note
    parameters = {"GET": [OpenApiParameter("reply", str, description="The number of one of its replies.")]}

    def get(self, request: Request, pk: int) -> Response:
        note = whole_notes(Note.objects.filter(pk=self.row.pk)).get()
        if "reply" not in request.query_params:
            return Response(self.annotations([note])[note.pk])
        wanted = request.query_params["reply"]
        reply = next((one for one in note.replies.all() if str(one.pk) == wanted), None)
        if reply is None:
            raise NotFound("This note has no such reply.")
        return Response(annotation_of_reply(reply, note, self.address))
