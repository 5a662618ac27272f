from django.conf import settings
from django.db import models

from board.models.board import Board

INSTRUCTOR, STUDENT = PLACES = ("instructor", "student")


class Enrolment(models.Model):
    """A person's place in a class. An alias stands for the name wherever others read it; a minor has one always."""

    school_class = models.ForeignKey("board.SchoolClass", on_delete=models.CASCADE, related_name="enrolments")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="enrolments")
    place = models.CharField(max_length=10, choices=[(place, place) for place in PLACES], default=STUDENT)
    alias = models.CharField(max_length=60, blank=True)
    is_minor = models.BooleanField(default=False)
    # The account was made for this class by an invitation: it goes when the last class of the person does.
    made_the_account = models.BooleanField(default=False)
    enrolled_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["school_class", "user"], name="one_place_per_person_and_class"),
            models.CheckConstraint(condition=models.Q(is_minor=False) | ~models.Q(alias=""), name="a_minor_has_an_alias"),
        ]

    def __str__(self) -> str:
        return self.shown_name

    @property
    def shown_name(self) -> str:
        return self.alias or self.user.get_full_name() or self.user.get_username()

    @property
    def instructs(self) -> bool:
        return self.place == INSTRUCTOR


def aliases_on(board: Board) -> dict[int, str]:
    """Person -> what stands for their name in the class that this board was set in; nothing on a board of no class."""
    of_class = Enrolment.objects.filter(school_class__assignments__works__board=board).exclude(alias="")
    return dict(of_class.values_list("user", "alias"))
