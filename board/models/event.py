from django.conf import settings
from django.db import models


class Event(models.Model):
    """One change, numbered on its board without gaps. Readers get only those that they may see."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="events")
    number = models.PositiveBigIntegerField()
    kind = models.CharField(max_length=40)  # "note-sent", "revision-ready", …
    at = models.DateTimeField(auto_now_add=True)
    actor = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    page = models.ForeignKey("board.Page", on_delete=models.SET_NULL, null=True, blank=True, related_name="events")
    # A held note is nobody's business but its writer's, and so is the event that tells of it.
    only_for = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    data = models.JSONField(default=dict)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["board", "number"], name="events_are_numbered_on_their_board")]

    def __str__(self) -> str:
        return f"{self.number} {self.kind}"
