"""The lines of an assignment's rubric, with what hangs on each: marks, words, notes and points of critiques."""

from collections.abc import Mapping, Sequence
from typing import Any

from board.errors import MarksWouldGo, NotValid
from board.models import Assignment, Criterion, Critique, Note, RubricMark


def write_rubric(assignment: Assignment, rubric: Sequence[Mapping[str, Any]], *, drops_marks: bool = False) -> None:
    """Lines with an id stay what they are, with their marks and notes; lines that are not named go.

    Raises MarksWouldGo where somebody marked by one of those or a note names it, unless that was said: `drops_marks`.
    """
    known = {criterion.pk: criterion for criterion in Criterion.objects.filter(assignment=assignment)}
    named = {one["id"] for one in rubric if one.get("id")}
    if unknown := named - set(known):
        raise NotValid(f"There is no criterion {min(unknown)} in this rubric.")
    _take_out([criterion for pk, criterion in known.items() if pk not in named], drops_marks)
    for order, one in enumerate(rubric, 1):
        criterion = known.get(one.get("id", 0)) or Criterion(assignment=assignment)
        criterion.order, criterion.title, criterion.asks = order, one["title"], one.get("asks", "")
        criterion.save()


def _take_out(lines: Sequence[Criterion], drops_marks: bool) -> None:
    told = [words for words in map(_what_hangs_on, lines) if words]
    if told and not drops_marks:
        raise MarksWouldGo(" ".join(told))
    for criterion in lines:
        _forget_in_critiques(criterion)
        criterion.delete()


def _what_hangs_on(criterion: Criterion) -> str:
    marked = RubricMark.objects.filter(criterion=criterion).count()
    notes = Note.objects.filter(criterion=criterion).count()
    if not marked and not notes:
        return ""
    works = "1 work is marked by it and loses" if marked == 1 else f"{marked} works are marked by it and lose"
    named = "1 note names it and stays" if notes == 1 else f"{notes} notes name it and stay"
    told = [f"{works} the mark with its words"] * bool(marked) + [f"{named} without it"] * bool(notes)
    return f"Without “{criterion.title}”: {'; '.join(told)}."


def _forget_in_critiques(criterion: Criterion) -> None:
    """A point that is not delivered yet would name a row that is gone."""
    for critique in Critique.objects.filter(round__assignment=criterion.assignment_id, round__delivered_at__isnull=True):
        naming = [one for one in critique.points if one.get("criterion") == criterion.pk]
        for point in naming:
            point["criterion"] = None
        if naming:
            critique.save(update_fields=["points"])
