from django.contrib.auth.models import AbstractBaseUser
from django.db.models import Q, QuerySet

from board.access.boards import access_by_board
from board.access.seats import Need, Seat, require, shown_or_missing
from board.models import Job


def visible_jobs(seat: Seat) -> QuerySet[Job]:
    jobs = Job.objects.filter(board=seat.board)
    if seat.sees_only_own_pages:
        jobs = jobs.filter(Q(revision__page__drawn_by_id=seat.user.pk) | Q(revision__page__is_open_to_students=True))
    return jobs


def access_job(user: AbstractBaseUser, pk: int, need: Need | None = None) -> tuple[Seat, Job]:
    job = Job.objects.select_related("board").filter(pk=pk).first()
    seat = access_by_board(user, job.board if job else None)
    job = shown_or_missing(visible_jobs(seat).filter(pk=pk).first())
    require(seat, need is None or need(seat))
    return seat, job
