"""Idempotency keys: the first answer to a POST is kept, and given again when the same request is sent again."""

from collections.abc import Iterable
from datetime import timedelta

from django.contrib.auth.models import AbstractBaseUser
from django.db import IntegrityError, transaction
from django.utils import timezone

from board.errors import KeyReused, StillAtWork
from board.models import KeptAnswer

KEPT_FOR = timedelta(days=2)
ABANDONED_AFTER = timedelta(minutes=5)


def open_answer(*, user: AbstractBaseUser, key: str, request_digest: str) -> KeptAnswer:
    """A fresh row (no status yet), or the earlier one. Raises KeyReused or StillAtWork."""
    now = timezone.now()
    forget_old_answers()
    KeptAnswer.objects.filter(user_id=user.pk, key=key, status__isnull=True, created_at__lt=now - ABANDONED_AFTER).delete()
    try:
        with transaction.atomic():
            return KeptAnswer.objects.create(user_id=user.pk, key=key, request_digest=request_digest)
    except IntegrityError:
        answer = KeptAnswer.objects.filter(user_id=user.pk, key=key).first()
    if answer is None:
        raise StillAtWork
    if answer.request_digest != request_digest:
        raise KeyReused
    if answer.status is None:
        raise StillAtWork
    return answer


@transaction.atomic
def keep_answer(*, answer: KeptAnswer, status: int, body: object) -> None:
    KeptAnswer.objects.filter(pk=answer.pk).update(status=status, body=body)


@transaction.atomic
def forget_answer(*, answer: KeptAnswer) -> None:
    """The request failed: sending it again may do better."""
    KeptAnswer.objects.filter(pk=answer.pk).delete()


@transaction.atomic
def forget_answers_to(*, people: Iterable[int]) -> None:
    """`people`: ids. What is at work still keeps its key."""
    KeptAnswer.objects.filter(user__in=list(people), status__isnull=False).delete()


def forget_old_answers() -> None:
    KeptAnswer.objects.filter(created_at__lt=timezone.now() - KEPT_FOR).delete()
