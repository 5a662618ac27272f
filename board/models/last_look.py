from django.conf import settings
from django.db import models


class LastLook(models.Model):
    """How far in the board's event log a person has seen: of the whole board (no page), or of one page."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="+")
    page = models.ForeignKey("board.Page", on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    event = models.PositiveBigIntegerField()
    at = models.DateTimeField(auto_now=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "page"], name="one_last_look_per_person_and_page"),
            models.UniqueConstraint(
                fields=["user", "board"], condition=models.Q(page__isnull=True), name="one_last_look_per_person_and_board"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user_id} up to {self.event}"
