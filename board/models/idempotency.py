from django.conf import settings
from django.db import models


class KeptAnswer(models.Model):
    """The answer to a POST that carried an `Idempotency-Key`, given again when it is sent again."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=200)
    request_digest = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField(null=True, blank=True)  # None while the first one is at work
    body = models.JSONField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "key"], name="one_answer_per_key")]

    def __str__(self) -> str:
        return self.key
