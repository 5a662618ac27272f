from django.db import models

from board.models.enrolment import PLACES, STUDENT
from board.models.expiring_link import ExpiringLink


class Invitation(ExpiringLink):
    """A link into a class."""

    school_class = models.ForeignKey("board.SchoolClass", on_delete=models.CASCADE, related_name="invitations")
    place = models.CharField(max_length=10, choices=[(place, place) for place in PLACES], default=STUDENT)
    # From a line of the roster, for one person; empty where whoever has the link chooses.
    username = models.CharField(max_length=150, blank=True)
    name = models.CharField(max_length=150, blank=True)
    alias = models.CharField(max_length=60, blank=True)
    is_minor = models.BooleanField(default=False)

    def __str__(self) -> str:
        return f"into {self.school_class} until {self.expires_at:%Y-%m-%d}"
