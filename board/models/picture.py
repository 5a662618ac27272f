from django.db import models


class Picture(models.Model):
    """An uploaded file, kept untouched under its SHA-256: the same bytes are kept once."""

    sha256 = models.CharField(max_length=64, unique=True)
    size_bytes = models.PositiveBigIntegerField()
    media_type = models.CharField(max_length=40)
    width_px = models.PositiveIntegerField(null=True, blank=True)  # upright, as seen; None until decoded
    height_px = models.PositiveIntegerField(null=True, blank=True)
    dpi = models.FloatField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return self.sha256[:12]

    @property
    def file_name(self) -> str:
        return f"pictures/{self.sha256[:2]}/{self.sha256}"


class Rendition(models.Model):
    """A smaller copy for screens."""

    picture = models.ForeignKey(Picture, on_delete=models.CASCADE, related_name="renditions")
    nominal_px = models.PositiveIntegerField()  # 400, 1200, 2400
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()

    class Meta:
        ordering = ["nominal_px"]
        constraints = [models.UniqueConstraint(fields=["picture", "nominal_px"], name="one_rendition_per_width")]

    def __str__(self) -> str:
        return f"{self.picture} at {self.nominal_px}"

    @property
    def file_name(self) -> str:
        return f"renditions/{self.picture.sha256[:2]}/{self.picture.sha256}-{self.nominal_px}.webp"
