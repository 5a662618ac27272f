from django.db import models

from board.models.assignment import AT_ONCE, MEASURED_CHOICES
from board.page_format import PageFormat


class Board(models.Model):
    """One comic under review."""

    title = models.CharField(max_length=200)
    reading = models.CharField(max_length=3, choices=[("ltr", "left to right"), ("rtl", "right to left")], default="ltr")
    is_bound = models.BooleanField(default=True)  # pages face each other; else each follows the one before
    trim_width_mm = models.FloatField(default=148)
    trim_height_mm = models.FloatField(default=210)
    bleed_mm = models.FloatField(default=3)
    safe_mm = models.FloatField(default=8)
    # {check id: {name: value}}: where this board wants other tolerances than the registry's.
    own_tolerances = models.JSONField(default=dict, blank=True)
    # One student's, for an assignment of a class; it takes the rest over from there.
    is_assigned = models.BooleanField(default=False)
    checks_off = models.JSONField(default=list, blank=True)  # ids of checks that do not run here
    measured_shown = models.CharField(max_length=14, choices=MEASURED_CHOICES, default=AT_ONCE)  # to students
    cast_is_given = models.BooleanField(default=False)
    set_is_given = models.BooleanField(default=False)
    put_away_at = models.DateTimeField(null=True, blank=True)  # it stands behind the others in the list of boards, and is as it was
    # Counts the event log. Raised under the row's lock, so that no reader ever skips a number.
    events_so_far = models.PositiveBigIntegerField(default=0)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["title", "pk"]

    def __str__(self) -> str:
        return self.title

    @property
    def format(self) -> PageFormat:
        return PageFormat(self.trim_width_mm, self.trim_height_mm, self.bleed_mm, self.safe_mm)
