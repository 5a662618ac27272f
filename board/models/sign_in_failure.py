from django.db import models


class SignInFailure(models.Model):
    """A wrong name or password, for as long as it counts. Name and address are kept as digests: people type passwords as names."""

    name_digest = models.CharField(max_length=64)
    address_digest = models.CharField(max_length=64)
    at = models.DateTimeField(auto_now_add=True, db_index=True)

    def __str__(self) -> str:
        return f"at {self.at:%H:%M:%S}"
