from django.conf import settings
from django.db import models


class ExpiringLink(models.Model):
    """A link that lets somebody in until it ends, so many times.

    Its secret is the server's signature of the row's number and time: who reads the database cannot make it.
    """

    uses_left = models.PositiveIntegerField(default=1)
    expires_at = models.DateTimeField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        abstract = True
        ordering = ["pk"]
