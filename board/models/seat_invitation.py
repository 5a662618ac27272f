from django.db import models

from board.models.expiring_link import ExpiringLink


class SeatInvitation(ExpiringLink):
    """A link to a seat on a board, with these roles."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="seat_invitations")
    roles = models.JSONField(default=list)

    def __str__(self) -> str:
        return f"to {self.board} as {', '.join(self.roles)} until {self.expires_at:%Y-%m-%d}"
