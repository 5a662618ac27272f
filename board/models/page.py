from django.conf import settings
from django.db import models

from board.models.versioned import Versioned
from board.stages.order import STAGES

STAGE_CHOICES = [(stage, stage) for stage in STAGES]


IN_COMIC = models.Q(laid_aside_at__isnull=True)


class PageQuerySet(models.QuerySet["Page"]):
    def in_comic(self) -> "PageQuerySet":
        return self.filter(IN_COMIC)


class Page(Versioned):
    """One page of the comic; with `is_spread`, two facing pages drawn as one picture that carries both numbers.

    A page that was laid aside is kept with all that is on it, and is not in the comic; its number is the one that it had there.
    """

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="pages")
    number = models.PositiveIntegerField()
    is_spread = models.BooleanField(default=False)
    stage = models.CharField(max_length=10, choices=STAGE_CHOICES, default=STAGES[0])
    handed_in_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    drawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="drawn_pages"
    )
    is_open_to_students = models.BooleanField(default=False)
    happens = models.TextField(blank=True)
    said = models.TextField(blank=True)
    chosen_alternate = models.CharField(max_length=2, default="A")
    laid_aside_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    objects = PageQuerySet.as_manager()

    class Meta:
        ordering = ["number", "pk"]
        constraints = [models.UniqueConstraint(fields=["board", "number"], condition=IN_COMIC, name="one_page_per_number")]

    def __str__(self) -> str:
        return f"page {self.numbers_text}"

    @property
    def numbers(self) -> tuple[int, ...]:
        return (self.number, self.number + 1) if self.is_spread else (self.number,)

    @property
    def numbers_text(self) -> str:
        return "-".join(str(number) for number in self.numbers)

    @property
    def waits_for(self) -> str:
        if self.finished_at:
            return "nobody"
        return "reviewer" if self.handed_in_at else "artist"
