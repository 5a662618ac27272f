"""A comic's script: read as text, what taking one over would do, and doing it."""

from django.http import HttpResponse
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.body import Body
from api.endpoint import Endpoint
from api.needs import may_change_board
from api.picture_answers import AnyAccept
from board.access import access_board
from board.actions.scripts import DEEDS, plan_script, script_text, take_script_over

LONGEST_SCRIPT = 2_000_000


class BoardScript(Endpoint):
    """As text, page by page and panel by panel: what POST to `/scripts` takes."""

    content_negotiation_class = AnyAccept
    media_types = ("text/plain",)
    reach = access_board

    def get(self, request: Request, pk: int) -> HttpResponse:
        name = f"{slugify(self.row.title, allow_unicode=True) or 'comic'}-script.txt"
        disposition = content_disposition_header(True, name) or "attachment"
        headers = {"Content-Disposition": disposition, "Cache-Control": "private, no-store"}
        return HttpResponse(script_text(self.seat), content_type="text/plain; charset=utf-8", headers=headers)


class ScriptText(Body):
    text = serializers.CharField(
        max_length=LONGEST_SCRIPT, trim_whitespace=False, help_text="Pages begin with a line like “Page 1”, panels with “Panel 1”.")


class ScriptTaken(ScriptText):
    replaces = serializers.BooleanField(required=False, help_text="Words that are there give way; else such pages are left.")


class ScriptPanelSerializer(serializers.Serializer):
    number = serializers.IntegerField(help_text="On its page.")
    happens = serializers.CharField()
    said = serializers.CharField()


class PlannedPageSerializer(serializers.Serializer):
    line = serializers.IntegerField(source="script.line")
    numbers = serializers.ListField(child=serializers.IntegerField(), source="script.numbers")
    happens = serializers.CharField(source="script.happens")
    said = serializers.CharField(source="script.said")
    panels = ScriptPanelSerializer(many=True, source="script.panels")
    panels_here = serializers.IntegerField(help_text="That the page has already.")
    does = serializers.ChoiceField(DEEDS)
    told = serializers.ListField(
        child=serializers.CharField(), help_text="What goes where, in sentences, if the panels' numbers are not 1, 2, 3 and so on.")
    faults = serializers.ListField(child=serializers.CharField())


class ScriptPreviewSerializer(serializers.Serializer):
    pages = PlannedPageSerializer(many=True)
    before = serializers.ListField(child=serializers.CharField(), help_text="Lines before the first page; they are left out.")
    faults = serializers.IntegerField(help_text="How many pages cannot be taken over.")


class ScriptPreviews(Endpoint):
    """Nothing is written."""

    shape = ScriptPreviewSerializer
    reach = access_board
    needs = {"POST": may_change_board}
    bodies = {"POST": ScriptText}
    statuses = {"POST": 200}
    answers_once = False  # nothing is done twice

    def post(self, request: Request, pk: int) -> Response:
        script, pages = plan_script(board=self.row, text=self.read_body()["text"])
        return self.answer({"pages": pages, "before": script.before, "faults": sum(bool(one.faults) for one in pages)})


class ScriptDoneSerializer(serializers.Serializer):
    added = serializers.IntegerField(help_text="Pages.")
    written = serializers.IntegerField(help_text="Pages that were here.")


class Scripts(Endpoint):
    """Whole or not at all. Pages that are not here yet are made, with their panels; the first picture of a page claims those."""

    shape = ScriptDoneSerializer
    reach = access_board
    needs = {"POST": may_change_board}
    bodies = {"POST": ScriptTaken}

    def post(self, request: Request, pk: int) -> Response:
        done = take_script_over(seat=self.seat, **self.read_body())
        added = sum(one.page is None for one in done)
        return self.answer({"added": added, "written": len(done) - added})
