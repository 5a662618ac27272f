"""Who hands in after a round of critique was drawn is let into it: they read as many works as all, and as many read theirs."""

import secrets
from collections import defaultdict

from django.db import transaction

from board.actions.critiques import add_critiques, pages_shown, round_still_open, works_read
from board.errors import AlreadyThere, NotValid
from board.models import Critique, CritiqueRound, Work
from board.stages.critique_pairs import join_critics


def left_out(opened: CritiqueRound) -> list[Work]:
    """Works whose stage is handed in, and that are not in the round; none once it is delivered."""
    if opened.delivered_at:
        return []
    inside = opened.critiques.filter(work__isnull=False).values("work")
    critics = opened.critiques.filter(critic__isnull=False).values("critic")
    handed_in = Work.objects.filter(assignment=opened.assignment_id, hand_ins__stage=opened.stage).distinct()
    return list(handed_in.exclude(pk__in=inside).exclude(enrolment__in=critics).select_related("enrolment__user").order_by("pk"))


@transaction.atomic
def let_in(*, opened: CritiqueRound, work: int) -> CritiqueRound:
    """Raises NotValid for a work whose stage is not handed in, AlreadyThere for one that is in the round."""
    opened = round_still_open(opened)
    newcomer = {one.pk: one for one in left_out(opened)}.get(work)
    if newcomer is None:
        if opened.critiques.filter(work=work).exists():
            raise AlreadyThere("This work is in the round already.")
        raise NotValid("Nobody handed this stage in as that work. Who did stands in “left_out” of the round.")
    works, reads = _drawn(opened)
    read_before = works_read(opened).get(newcomer.enrolment_id, set())
    read, readers = join_critics(reads, opened.each_reads, secrets.randbits(64), read_before)
    pairs = [(newcomer.enrolment_id, works[one]) for one in read] + [(reader, newcomer) for reader in readers]
    add_critiques(opened, pairs, {one.pk: pages_shown(one, opened.stage) for _, one in pairs})
    return opened


def _drawn(opened: CritiqueRound) -> tuple[dict[int, Work], dict[int, list[int]]]:
    """Students -> their works, and -> whose they read, by their enrolments; of whoever is still in the class."""
    works: dict[int, Work] = {}
    reads: dict[int, list[int]] = defaultdict(list)
    for one in Critique.objects.filter(round=opened, work__isnull=False).select_related("work"):
        assert one.work is not None
        works[one.work.enrolment_id] = one.work
        if one.critic_id:
            reads[one.critic_id].append(one.work.enrolment_id)
    return works, {student: reads[student] for student in works}
