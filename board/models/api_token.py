from django.conf import settings
from django.db import models


class ApiToken(models.Model):
    """A script's key. Only its SHA-256 is kept: who reads the database cannot use it."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="api_tokens")
    sha256 = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField(auto_now_add=True)
    last_used_on = models.DateField(null=True, blank=True)

    def __str__(self) -> str:
        return f"token of {self.user}"
