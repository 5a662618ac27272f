"""How a comic reads from turn to turn, in numbers."""

from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from board.access import access_board
from board.actions.pace_inputs import read_pace
from board.pace import ComicPace, Turn
from board.pace_remarks import Remark, what_stands_out
from board.page_openings import Opening


class PanelPaceSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="facts.id")
    order = serializers.IntegerField()
    share = serializers.FloatField(allow_null=True, help_text="Of the page's picture, 0 to 1; null where it is not drawn yet.")
    words = serializers.IntegerField(help_text="That are said in it; names of who speaks are left out.")
    lines = serializers.ListField(child=serializers.IntegerField(), help_text="The words of each line said.")
    eye_level = serializers.FloatField(
        allow_null=True, help_text="At the panel's middle, from its top, as a share of its height: below 0 above the panel, over 1 "
        "below it. Null where none is known, or shown to you.")
    figure = serializers.FloatField(allow_null=True, help_text="The tallest marked figure, as a share of the panel's height.")


class PagePaceSerializer(serializers.Serializer):
    id = serializers.IntegerField(source="facts.id")
    numbers = serializers.ListField(child=serializers.IntegerField())
    is_drawn = serializers.BooleanField(source="facts.is_drawn")
    words = serializers.IntegerField(help_text="Of its panels, and of the page as a whole.")
    largest_share = serializers.FloatField(source="largest.share", default=None, allow_null=True)
    panels = PanelPaceSerializer(many=True)


class LeafSerializer(serializers.Serializer):
    number = serializers.IntegerField(allow_null=True, help_text="Null where nothing stands there.")
    page = serializers.IntegerField(allow_null=True, help_text="Null with a number: that page is missing.")


class OpeningSerializer(serializers.Serializer):
    leaves = LeafSerializer(many=True, help_text="In reading order; a spread that is one picture is one.")
    gap = serializers.ListField(
        child=serializers.IntegerField(), allow_null=True, help_text="First and last number of pages missing before it.")


class BesideTurnSerializer(serializers.Serializer):
    page = serializers.IntegerField()
    panel = serializers.IntegerField(allow_null=True, help_text="The last one before the turn, the first one after it.")


class TurnSerializer(serializers.Serializer):
    before = BesideTurnSerializer(allow_null=True, help_text="Null where that page is missing.")
    after = BesideTurnSerializer(allow_null=True)


class RemarkSerializer(serializers.Serializer):
    kind = serializers.CharField()
    text = serializers.CharField()
    pages = serializers.ListField(child=serializers.IntegerField())
    panels = serializers.ListField(child=serializers.IntegerField(), help_text="Their places on the page.")
    measured = serializers.FloatField()
    compared = serializers.FloatField(help_text="The comic's median, or a rule of thumb.")


class ReadingSerializer(serializers.Serializer):
    fiction_seconds = serializers.FloatField()
    non_fiction_seconds = serializers.FloatField()


class PaceSerializer(serializers.Serializer):
    reading = serializers.ChoiceField(["ltr", "rtl"])
    page_count = serializers.IntegerField(help_text="A spread counts as two.")
    panel_count = serializers.IntegerField()
    words = serializers.IntegerField()
    median_words = serializers.FloatField(allow_null=True, help_text="Of the pages with words, each side of a spread being one.")
    median_panels = serializers.FloatField(allow_null=True)
    median_largest_share = serializers.FloatField(allow_null=True)
    reading_time = ReadingSerializer(
        help_text="Of the words alone, at the averages of who reads English prose silently: 260 and 238 words a minute "
        "(Brysbaert 2019).")
    pages = PagePaceSerializer(many=True)
    openings = OpeningSerializer(many=True)
    turns = TurnSerializer(many=True)
    stands_out = RemarkSerializer(many=True, help_text="Things to look at, not faults.")


class BoardPace(Endpoint):
    """What each page and panel asks to be read, how they lie open together, and what stands out."""

    shape = PaceSerializer
    reach = access_board

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(_shown(read_pace(self.seat), self.row.reading))


def _shown(comic: ComicPace, reading: str) -> dict[str, Any]:
    ids = [page.facts.id for page in comic.pages]
    return {
        "reading": reading, "page_count": comic.numbers, "panel_count": comic.panels, "words": comic.words,
        "median_words": comic.median_words, "median_panels": comic.median_panels, "median_largest_share": comic.median_largest,
        "reading_time": {"fiction_seconds": comic.fiction_seconds, "non_fiction_seconds": comic.non_fiction_seconds},
        "pages": comic.pages,
        "openings": [_opening(opening, ids) for opening in comic.openings],
        "turns": [_turn(turn) for turn in comic.turns],
        "stands_out": [_remark(remark, ids) for remark in what_stands_out(comic)],
    }


def _opening(opening: Opening, ids: list[int]) -> dict[str, Any]:
    leaves = [{"number": leaf.number, "page": None if leaf.page is None else ids[leaf.page]} for leaf in opening.leaves]
    return {"leaves": leaves, "gap": opening.gap}


def _turn(turn: Turn) -> dict[str, Any]:
    before, after = turn.before, turn.after
    return {
        "before": before and {"page": before.facts.id, "panel": before.panels[-1].facts.id if before.panels else None},
        "after": after and {"page": after.facts.id, "panel": after.panels[0].facts.id if after.panels else None},
    }


def _remark(remark: Remark, ids: list[int]) -> dict[str, Any]:
    return {**vars(remark), "pages": [ids[at] for at in remark.pages]}
