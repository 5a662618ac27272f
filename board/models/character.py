from django.db import models

from board.models.versioned import Versioned

AGE_BANDS = ("child", "youth", "adult", "old")


class Character(Versioned):
    """One of the cast: a made-up figure, never a person. How it is built is told by its model sheets."""

    board = models.ForeignKey("board.Board", on_delete=models.CASCADE, related_name="characters")
    name = models.CharField(max_length=60)
    key = models.CharField(max_length=1)  # chooses the character while figures are marked
    height_m = models.FloatField(null=True, blank=True)
    age_band = models.CharField(max_length=5, choices=[(band, band) for band in AGE_BANDS], blank=True)
    # A published canon or survey to start from, by its id in `proportion_presets`: shown, and never measured against
    preset = models.CharField(max_length=20, blank=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["board", "name"], name="one_character_per_board_and_name"),
            models.UniqueConstraint(fields=["board", "key"], name="one_character_per_board_and_key"),
        ]

    def __str__(self) -> str:
        return self.name
