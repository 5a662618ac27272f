from django.conf import settings
from django.db import models

from board.models.enrolment import PLACES, STUDENT


class Invitation(models.Model):
    """A link into a class that expires. Its secret is the server's signature: who reads the database cannot make it."""

    school_class = models.ForeignKey("board.SchoolClass", on_delete=models.CASCADE, related_name="invitations")
    place = models.CharField(max_length=10, choices=[(place, place) for place in PLACES], default=STUDENT)
    # From a line of the roster, for one person; empty where whoever has the link chooses.
    username = models.CharField(max_length=150, blank=True)
    name = models.CharField(max_length=150, blank=True)
    alias = models.CharField(max_length=60, blank=True)
    is_minor = models.BooleanField(default=False)
    uses_left = models.PositiveIntegerField(default=1)
    expires_at = models.DateTimeField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"into {self.school_class} until {self.expires_at:%Y-%m-%d}"
