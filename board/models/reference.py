from typing import Any

from django.conf import settings
from django.db import models

from board.exact_camera import ExactCamera
from board.models.revision import READY, RECEIVED, REFUSED

REFERENCE_KINDS = ("still", "background", "pose", "prop", "model-sheet")


class Reference(models.Model):
    """A picture that panels are drawn from: a still of a modelled set, an old background, a pose, a prop, a model sheet."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="references")
    kind = models.CharField(max_length=12, choices=[(kind, kind) for kind in REFERENCE_KINDS], default="still")
    title = models.CharField(max_length=200)
    picture = models.ForeignKey("board.Picture", on_delete=models.PROTECT, related_name="references")
    state = models.CharField(max_length=10, choices=[(s, s) for s in (RECEIVED, READY, REFUSED)], default=RECEIVED)
    reason = models.CharField(max_length=500, blank=True)
    # Of a still, in page coordinates: what its lines show, as the perspective check tells of a panel, or {"reason": …}
    numbers = models.JSONField(default=dict, blank=True)
    # Its exact camera, where somebody gave it: the fields of `board.exact_camera.ExactCamera`
    camera = models.JSONField(null=True, blank=True)
    uploaded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    uploaded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["kind", "title", "pk"]

    def __str__(self) -> str:
        return self.title

    def perspective_numbers(self) -> dict[str, Any]:
        """As its exact camera has them, else as its lines show them, or the reason why nothing is known."""
        picture = self.picture
        if self.camera and picture.width_px and picture.height_px:
            return ExactCamera(**self.camera).numbers(picture.width_px, picture.height_px)
        return self.numbers
