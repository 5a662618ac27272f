from django.conf import settings
from django.db import models

from board.models.versioned import Versioned

POSES = ("standing", "seated", "crouching", "far")
FIGURE_VIEWS = ("front", "back", "side", "turned")
BY_HAND, REGISTERED, LOST = PLACED_BY = ("hand", "registered", "lost")


class Figure(Versioned):
    """One drawn figure that someone marked and tied to a character; where its marks stand on a revision is a `FigurePlace`."""

    page = models.ForeignKey("board.Page", on_delete=models.CASCADE, related_name="figures")
    character = models.ForeignKey("board.Character", on_delete=models.CASCADE, related_name="figures")
    panel = models.ForeignKey("board.Panel", on_delete=models.SET_NULL, null=True, blank=True, related_name="figures")
    pose = models.CharField(max_length=10, choices=[(pose, pose) for pose in POSES], default="standing")
    view = models.CharField(max_length=6, choices=[(view, view) for view in FIGURE_VIEWS], blank=True)
    ground_offset_m = models.FloatField(null=True, blank=True)  # the floor under the soles, over the panel's ground
    marked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.character} on {self.page}"


class FigurePlace(models.Model):
    """The marks of a figure on one revision, as clicked or as carried there by the map between the two pictures."""

    figure = models.ForeignKey(Figure, on_delete=models.CASCADE, related_name="places")
    revision = models.ForeignKey("board.Revision", on_delete=models.CASCADE, related_name="figure_places")
    marks = models.JSONField(default=dict, blank=True)  # name in `figure_landmarks.LANDMARKS` -> page coordinates; empty where lost
    doubts = models.JSONField(default=dict, blank=True)  # name -> 1 sigma of pointing at it, as a share of the picture's width
    placed_by = models.CharField(max_length=10, choices=[(how, how) for how in PLACED_BY], default=BY_HAND)
    reason = models.CharField(max_length=200, blank=True)  # why the marks could not be carried here

    class Meta:
        ordering = ["figure"]
        constraints = [models.UniqueConstraint(fields=["figure", "revision"], name="one_place_per_figure_and_revision")]

    def __str__(self) -> str:
        return f"{self.figure_id} on {self.revision_id}"
