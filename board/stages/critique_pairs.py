"""Who reads whose work: everybody gives and gets exactly as many critiques, and nobody their own."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from random import Random
from typing import TypeVar

Student = TypeVar("Student")
MOST_SWAPS = 1000


def pair_critics(
    students: Sequence[Student], each_reads: int, seed: int, read_before: Mapping[Student, Collection[Student]] | None = None
) -> dict[Student, list[Student]]:
    """Student -> whose work they read. For every 0 < `each_reads` < number of students; raises ValueError otherwise.

    Students stand in a drawn circle, and all read the ones at the same few distances ahead: each distance gives everybody one to
    read and one reader. A distance with its mirror would make two read each other; as long as there is a choice, none do. Whom
    somebody read before, `read_before`, they read again only where it cannot well be otherwise.
    """
    count = len(students)
    if not 0 < each_reads < count:
        raise ValueError(_possible(count - 1))
    random = Random(seed)
    circle = random.sample(list(students), count)
    distances = _distances(count, each_reads, random)
    _set_apart(circle, distances, read_before or {}, random)
    return {
        student: random.sample([circle[(place + ahead) % count] for ahead in distances], each_reads)
        for place, student in enumerate(circle)
    }


def _set_apart(
    circle: list[Student], distances: Sequence[int], read_before: Mapping[Student, Collection[Student]], random: Random
) -> None:
    """Lets two change places in the circle where no more read again then; until none do, or it was tried often enough."""
    def read_again() -> int:
        ahead_of = (((place + ahead) % len(circle), one) for place, one in enumerate(circle) for ahead in distances)
        return sum(circle[place] in read_before.get(one, ()) for place, one in ahead_of)

    fewest = read_again()
    for _ in range(MOST_SWAPS):
        if not fewest:
            return
        a, b = random.sample(range(len(circle)), 2)
        circle[a], circle[b] = circle[b], circle[a]
        if (now := read_again()) <= fewest:
            fewest = now
        else:
            circle[a], circle[b] = circle[b], circle[a]


def join_critics(
    reads: Mapping[Student, Sequence[Student]], each_reads: int, seed: int, read_before: Collection[Student] = ()
) -> tuple[list[Student], list[Student]]:
    """Whom somebody reads who comes later, and who reads them, of those who read each other already: student -> whom they read.

    Those who have fewest readers, and fewest to read; if it can be so none whom they read before, and none both.
    """
    drawn = Random(seed).sample(list(reads), len(reads))
    readers_of = Counter(one for read in reads.values() for one in read)
    read = sorted(drawn, key=lambda one: (one in read_before, readers_of[one]))[:each_reads]
    readers = sorted(drawn, key=lambda one: (len(reads[one]), one in read))[:each_reads]
    return read, readers


def _possible(others: int) -> str:
    if others < 1:
        return "It takes two to read each other."
    return "Each can read one other here." if others == 1 else f"Each can read 1 to {others} others here."


def _distances(count: int, each_reads: int, random: Random) -> list[int]:
    """One of each mirrored couple first, then the others."""
    near = [random.choice((ahead, count - ahead)) for ahead in range(1, (count + 1) // 2)]
    random.shuffle(near)
    rest = [ahead for ahead in range(1, count) if ahead not in near]
    random.shuffle(rest)
    return (near + rest)[:each_reads]
