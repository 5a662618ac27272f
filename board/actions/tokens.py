import hashlib
import secrets

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from board.models import ApiToken


def sha256_of_token(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


@transaction.atomic
def issue_token(*, user: AbstractBaseUser, token: str = "") -> str:
    """The token is shown this once; only its hash is kept. `token`: one that the caller drew, at random."""
    token = token or secrets.token_urlsafe(32)
    ApiToken.objects.create(user_id=user.pk, sha256=sha256_of_token(token))
    return token


@transaction.atomic
def revoke_tokens(*, user: AbstractBaseUser) -> int:
    """All of a person's tokens."""
    return ApiToken.objects.filter(user_id=user.pk).delete()[0]


def user_of_token(*, token: str) -> AbstractBaseUser | None:
    """Whose token this is, or None. Remembers the day, so that unused ones can be told."""
    row = ApiToken.objects.select_related("user").filter(sha256=sha256_of_token(token), user__is_active=True).first()
    if row is None:
        return None
    today = timezone.now().date()
    if row.last_used_on != today:
        ApiToken.objects.filter(pk=row.pk).update(last_used_on=today)
    return row.user
