from datetime import date, datetime, timedelta

from django.db import models

from board.stages.deadlines import today_at_the_latest


class SchoolClass(models.Model):
    """Students and their instructors for one term. What its students made is kept for some days after the term, then deleted."""

    title = models.CharField(max_length=200)
    term = models.CharField(max_length=60, blank=True)  # "Autumn 2026"
    ends_on = models.DateField()
    kept_days = models.PositiveIntegerField(default=180)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-ends_on", "title", "pk"]
        verbose_name, verbose_name_plural = "class", "classes"

    def __str__(self) -> str:
        return self.title

    @property
    def kept_until(self) -> date:
        return self._days_after(self.kept_days)

    @property
    def listed_from(self) -> date:
        """From when on `manage.py expire_classes` lists it."""
        return self._days_after(self.kept_days + 1)

    def _days_after(self, days: int) -> date:
        """No day is later than the last of the year 9999."""
        return self.ends_on + min(timedelta(days=days), date.max - self.ends_on)

    def is_over(self, now: datetime) -> bool:
        """Once its last day is over everywhere: a deadline on that day, set anywhere, can be kept."""
        return self.ends_on < today_at_the_latest(now)
