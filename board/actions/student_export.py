"""All that is kept of one student, as a zip of their own: what they made, handed in, wrote and were told. Nobody else's name."""

import json
from collections.abc import Iterator
from typing import Any

from board.access import seat_on, visible_notes
from board.models import Critique, Enrolment, HandIn, Note, Revision, Work
from board.models.work import LEVELS
from board.picture_files import ENDINGS
from board.zipped_files import ZipEntry


def export_student(enrolment: Enrolment) -> list[ZipEntry]:
    works = list(Work.objects.filter(enrolment=enrolment).select_related("assignment", "board", "enrolment__user"))
    facts = json.dumps(_facts(enrolment, works), ensure_ascii=False, indent=1, default=str)
    pictures = [entry for place, work in enumerate(works, 1) for entry in _pictures(place, work)]
    return [ZipEntry("student.json", facts.encode()), *pictures]


def _pictures(place: int, work: Work) -> Iterator[ZipEntry]:
    for revision in _revisions(work):
        yield ZipEntry(f"assignment-{place}/{_name_of(revision)}", kept=revision.picture.file_name)
        if revision.photo:
            yield ZipEntry(f"assignment-{place}/{_name_of(revision, 'photograph')}", kept=revision.photo.file_name)


def _facts(enrolment: Enrolment, works: list[Work]) -> dict[str, Any]:
    user = enrolment.user
    return {
        "username": user.get_username(), "name": user.get_full_name(), "alias": enrolment.alias, "is_minor": enrolment.is_minor,
        "class": enrolment.school_class.title, "term": enrolment.school_class.term, "enrolled_at": enrolment.enrolled_at,
        "kept_until": enrolment.school_class.kept_until,
        "works": [{"folder": f"assignment-{place}", **_work(work)} for place, work in enumerate(works, 1)],
        "critiques_given": [
            {"work": one.label, "stage": one.round.stage, "points": one.points, "sent_at": one.sent_at}
            for one in Critique.objects.filter(critic=enrolment).select_related("round")
        ],
    }


def _work(work: Work) -> dict[str, Any]:
    revisions = _revisions(work)
    file_of = {one.pk: _name_of(one) for one in revisions}
    return {
        "assignment": work.assignment.title, "brief": work.assignment.brief,
        "extensions": list(work.extensions.values("stage", "due_at")),
        "hand_ins": [_hand_in(one, file_of) for one in work.hand_ins.all()],
        "marks": [{"criterion": one.criterion.title, "level": LEVELS[one.level], "comment": one.comment}
                  for one in work.marks.select_related("criterion")],
        "pictures": [_picture(one) for one in revisions],
        "notes": list(_notes(work, file_of)),
    }


def _picture(one: Revision) -> dict[str, Any]:
    return {
        "page": one.page.number, "file": _name_of(one), "photograph": _name_of(one, "photograph") if one.photo else None,
        "stage": one.stage, "uploaded_at": one.uploaded_at, "file_name": one.file_name, "minutes_spent": one.minutes_spent,
        "sha256": one.picture.sha256,
    }


def _hand_in(one: HandIn, file_of: dict[int, str]) -> dict[str, Any]:
    """With all that its digest is worked out from."""
    files = [{"page": file["page"], "sha256": file["sha256"], "file": file_of.get(file["revision"])} for file in one.files]
    return {"receipt": one.receipt, "stage": one.stage, "handed_in_at": one.handed_in_at, "minutes_late": one.minutes_late,
            "digest": one.digest, "digest_is": "SHA-256 over a line “page sha256” for each of the files", "files": files}


def _notes(work: Work, file_of: dict[int, str]) -> Iterator[dict[str, Any]]:
    """What stands on the board, where, and with replies; of other people only whether it was they. Regions and lines are in
    fractions of the picture that the note was pinned on."""
    own = work.enrolment.user_id
    seat = seat_on(work.enrolment.user, work.board)
    notes = visible_notes(seat) if seat else Note.objects.none()
    for note in notes.select_related("page", "panel").prefetch_related("replies"):
        yield {
            "page": note.page.number if note.page else None, "panel": note.panel.order if note.panel else None,
            "picture": file_of.get(note.revision_id or 0), "region": note.region, "lines": note.lines,
            "tone": note.tone, "state": note.state, "body": note.body,
            "by": note.check_id or ("you" if note.author_id == own else note.pen_name or "an instructor"),
            "replies": [{"by": "you" if one.author_id == own else "somebody else", "body": one.body} for one in note.replies.all()],
        }


def _revisions(work: Work) -> list[Revision]:
    revisions = Revision.objects.filter(page__board=work.board_id).select_related("page", "picture", "photo")
    return list(revisions.order_by("page__number", "number"))


def _name_of(revision: Revision, what: str = "") -> str:
    """`what`: "photograph" for what it was laid flat from."""
    picture = revision.photo if what and revision.photo else revision.picture
    ending = ENDINGS.get(picture.media_type, "bin")
    return f"page-{revision.page.number}-revision-{revision.number}-{what or revision.stage}.{ending}"
