"""Who reads whose work: everybody gives and gets exactly as many critiques, and nobody their own."""

from collections.abc import Sequence
from random import Random
from typing import TypeVar

Student = TypeVar("Student")


def pair_critics(students: Sequence[Student], each_reads: int, seed: int) -> dict[Student, list[Student]]:
    """Student -> whose work they read. For every 0 < `each_reads` < number of students; raises ValueError otherwise.

    Students stand in a drawn circle, and all read the ones at the same few distances ahead: each distance gives everybody one to
    read and one reader. A distance with its mirror would make two read each other; as long as there is a choice, none do.
    """
    count = len(students)
    if not 0 < each_reads < count:
        raise ValueError(_possible(count - 1))
    random = Random(seed)
    circle = random.sample(list(students), count)
    distances = _distances(count, each_reads, random)
    return {
        student: random.sample([circle[(place + ahead) % count] for ahead in distances], each_reads)
        for place, student in enumerate(circle)
    }


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
