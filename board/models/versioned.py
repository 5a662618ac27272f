from django.db import models


class Versioned(models.Model):
    """A row that people change side by side: each change names the version it was made on, and makes the next."""

    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True
