"""All that is kept of one student, as a zip of their own: what they made, handed in, wrote and were told. Nobody else's name."""

import json
from typing import Any

from board.actions.work_export import work_facts, work_files
from board.models import Critique, Enrolment, Work
from board.zipped_files import ZipEntry


def export_student(enrolment: Enrolment) -> list[ZipEntry]:
    works = list(Work.objects.filter(enrolment=enrolment).select_related("assignment", "board", "enrolment__user"))
    folders = {f"assignment-{place}": work for place, work in enumerate(works, 1)}
    facts = json.dumps(_facts(enrolment, folders), ensure_ascii=False, indent=1, default=str)
    files = [entry for folder, work in folders.items() for entry in work_files(folder, work)]
    return [ZipEntry("student.json", facts.encode()), *files]


def _facts(enrolment: Enrolment, folders: dict[str, Work]) -> dict[str, Any]:
    user = enrolment.user
    return {
        "username": user.get_username(), "name": user.get_full_name(), "alias": enrolment.alias, "is_minor": enrolment.is_minor,
        "class": enrolment.school_class.title, "term": enrolment.school_class.term, "enrolled_at": enrolment.enrolled_at,
        "kept_until": enrolment.school_class.kept_until,
        "works": [{"folder": folder, **work_facts(work)} for folder, work in folders.items()],
        "critiques_given": [
            {"work": one.label, "stage": one.round.stage, "points": one.points, "sent_at": one.sent_at}
            for one in Critique.objects.filter(critic=enrolment).select_related("round")
        ],
    }
