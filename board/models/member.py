from django.conf import settings
from django.db import models

ROLES = ("editor", "artist", "student", "instructor", "reader")


class Member(models.Model):
    """A person on a board, with a set of roles: one person may be artist and editor."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="members")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships")
    roles = models.JSONField(default=list)
    joined_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["board", "user"], name="one_seat_per_person")]

    def __str__(self) -> str:
        return f"{self.user}: {', '.join(self.roles)}"

    @property
    def role_set(self) -> frozenset[str]:
        return frozenset(self.roles)
