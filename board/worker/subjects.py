"""What a job is about. A kind of work names its subject; a row without it is a fault of ours."""

from typing import TypeVar

from board.models import Job, Picture, Reference, ReviewSheet, Revision, Sheet, Underlay

Subject = TypeVar("Subject")


def revision_of(job: Job) -> Revision:
    return _named(job, "revision", job.revision)


def photograph_of(job: Job) -> tuple[Revision, Picture]:
    revision = revision_of(job)
    return revision, _named(job, "photograph", revision.photo)


def sheet_of(job: Job) -> Sheet:
    return _named(job, "sheet", job.sheet)


def reference_of(job: Job) -> Reference:
    return _named(job, "reference", job.reference)


def underlay_of(job: Job) -> Underlay:
    return _named(job, "underlay", job.underlay)


def review_sheet_of(job: Job) -> ReviewSheet:
    return _named(job, "review sheet", job.review_sheet)


def _named(job: Job, noun: str, subject: Subject | None) -> Subject:
    if subject is None:
        raise ValueError(f"Job {job.pk} ({job.kind}) has no {noun}.")
    return subject
