"""What a job is about. A kind of work names its subject; a row without it is a fault of ours."""

from board.models import Job, Reference, Revision, Sheet, Underlay


def revision_of(job: Job) -> Revision:
    if job.revision is None:
        raise ValueError(f"Job {job.pk} ({job.kind}) has no revision.")
    return job.revision


def sheet_of(job: Job) -> Sheet:
    if job.sheet is None:
        raise ValueError(f"Job {job.pk} ({job.kind}) has no sheet.")
    return job.sheet


def reference_of(job: Job) -> Reference:
    if job.reference is None:
        raise ValueError(f"Job {job.pk} ({job.kind}) has no reference.")
    return job.reference


def underlay_of(job: Job) -> Underlay:
    if job.underlay is None:
        raise ValueError(f"Job {job.pk} ({job.kind}) has no underlay.")
    return job.underlay
