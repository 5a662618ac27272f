from collections.abc import Iterable

from django.db import models

from board.figure_proportions import FigureProportions, measure_proportions
from board.models.character import Character
from board.models.versioned import Versioned
from board.page_space import PictureFrame

VIEWS = ("front", "side", "back", "head")
# Later ones count more where two views show the same length.
WHOLE_FIGURE_VIEWS = ("back", "side", "front")


class ModelSheet(Versioned):
    """A reference that shows a character from one side, with its landmarks marked once. A later version holds from a later page."""

    character = models.ForeignKey("board.Character", on_delete=models.CASCADE, related_name="sheets")
    reference = models.ForeignKey("board.Reference", on_delete=models.CASCADE, related_name="model_sheets")
    view = models.CharField(max_length=5, choices=[(view, view) for view in VIEWS], default="front")
    from_page = models.PositiveIntegerField(default=1)
    height_m = models.FloatField(null=True, blank=True)  # of who has grown by then; else the character's height goes on
    landmarks = models.JSONField(default=dict, blank=True)  # name in `figure_landmarks.LANDMARKS` -> page coordinates

    class Meta:
        ordering = ["from_page", "pk"]

    def __str__(self) -> str:
        return f"{self.character}, {self.view}, from page {self.from_page}"

    def proportions(self) -> FigureProportions | None:
        """None where crown and soles are not both marked, or the picture was not read yet."""
        picture = self.reference.picture
        if not picture.width_px or not picture.height_px:
            return None
        frame = PictureFrame(picture.width_px, picture.height_px)
        measured = measure_proportions({name: frame.to_pixels(point) for name, point in self.landmarks.items()})
        return measured if isinstance(measured, FigureProportions) else None


def _holding(sheets: Iterable[ModelSheet], page_number: int | None) -> list[ModelSheet]:
    """The sheets that hold on a page, the latest last; without a page, all."""
    holding = [one for one in sheets if page_number is None or one.from_page <= page_number]
    return sorted(holding, key=lambda one: (one.from_page, one.pk))


def height_on(character: Character, sheets: Iterable[ModelSheet], page_number: int | None = None) -> float | None:
    """As the latest sheet that says one and holds on a page has it, marked or not; without a page, the latest of all."""
    return next((one.height_m for one in reversed(_holding(sheets, page_number)) if one.height_m), character.height_m)


def proportions_on(sheets: Iterable[ModelSheet], page_number: int | None = None) -> FigureProportions:
    """What the sheets that hold on a page say together; without a page, the latest of each view. One on which crown and soles are
    not marked yet takes no other's place."""
    heads: float | None = None
    segments: dict[str, float] = {}
    latest = {sheet.view: measured for sheet in _holding(sheets, page_number) if (measured := sheet.proportions())}
    for view in WHOLE_FIGURE_VIEWS:
        if measured := latest.get(view):
            seen = dict(measured.segments)
            if view == "side" and "head-width" in seen:
                seen["head-depth"] = seen.pop("head-width")
            heads, segments = measured.head_count or heads, segments | seen
    return FigureProportions(heads, segments)
