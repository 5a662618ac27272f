"""Precision and recall of seeded faults as rows: by size, by finding, and held to their bars."""

from collections.abc import Iterator, Sequence

from fixtures.bench_faults import AMOUNTS
from tests.bench.fault_matching import ANSWERS, Outcome
from tests.bench.rows import Row, at_least, at_most

BAR_STAGES = ("pencil", "final")
# From this size on a fault has to be found: degrees, share of panel height, percent of height, heads.
COUNTS_FROM = {
    "turned-edge": 4.0, "turned-upright": 4.0, "turned-solid": 4.0, "eye-level-split": 0.06, "outside-cone": 13.0,
    "figures-eye-level": 12.0, "figure-height": 12.0, "head-count": 0.75,
}
# What hand noise does too counts neither way.
LIKE_NOISE = {"turned-edge": 4.0, "turned-upright": 4.0, "turned-solid": 4.0}
BARS = {
    "edges off by ≥ 4°": ("turned-edge", "turned-solid", "turned-upright"),
    "eye levels off by ≥ 6 %": ("eye-level-split",),
    "things all of which lie ≥ 13° outside the cone": ("outside-cone",),
    "heights off by ≥ 12 %": ("figure-height", "figures-eye-level"),
    "head counts off by ≥ 0.75": ("head-count",),
}
NOTHING = float("nan")


def counts(outcome: Outcome) -> bool:
    return outcome.kind is not None and outcome.size >= COUNTS_FROM[outcome.kind] - 1e-9


def percent(part: float, whole: float) -> float:
    return 100 * part / whole if whole else NOTHING


def recall(outcomes: Sequence[Outcome]) -> float:
    """Percent of the faults that have to be found."""
    counted = [one for one in outcomes if counts(one)]
    return percent(sum(one.found for one in counted), len(counted))


def reports(outcomes: Sequence[Outcome], findings: Sequence[str]) -> tuple[int, int]:
    """How many reports of these findings were right, and how many wrong, over clean and faulted panels alike."""
    noise = [one for one in outcomes if one.kind in LIKE_NOISE and one.size < LIKE_NOISE[one.kind] - 1e-9]
    right = sum(finding in findings for one in outcomes if one not in noise for finding in one.right)
    return right, sum(finding in findings for one in outcomes for finding in one.wrong)


def precision(outcomes: Sequence[Outcome], findings: Sequence[str]) -> float:
    right, wrong = reports(outcomes, findings)
    return percent(right, right + wrong)


def size_rows(outcomes: Sequence[Outcome], stages: Sequence[str]) -> Iterator[Row]:
    for stage in stages:
        for kind, amounts in AMOUNTS.items():
            for amount in amounts:
                cell = cell_of(outcomes, stage, kind, amount)
                if cell:
                    share = percent(sum(one.found for one in cell), len(cell))
                    yield Row(f"  {stage}: {kind} of {amount:g}, found of {len(cell)}", share, "%")


def cell_of(outcomes: Sequence[Outcome], stage: str, kind: str, amount: float) -> list[Outcome]:
    return [one for one in outcomes if (one.stage, one.kind) == (stage, kind) and abs(one.amount - amount) < 1e-9]


def finding_rows(outcomes: Sequence[Outcome], stages: Sequence[str]) -> Iterator[Row]:
    for stage in stages:
        here = [one for one in outcomes if one.stage == stage]
        for finding in sorted({answer for answers in ANSWERS.values() for answer in answers}):
            right, wrong = reports(here, [finding])
            asked = [one for one in here if one.kind and finding in ANSWERS[one.kind]]
            name = f"  {stage}: {finding}, precision of {right + wrong}"
            yield Row(name, percent(right, right + wrong), "%")
            yield Row(f"  {stage}: {finding}, recall of {sum(map(counts, asked))}", recall(asked), "%")


def bar_rows(outcomes: Sequence[Outcome]) -> Iterator[Row]:
    held = [one for one in outcomes if one.stage in BAR_STAGES]
    for name, kinds in BARS.items():
        yield at_least(f"Seeded faults: recall, {name}", recall([one for one in held if one.kind in kinds]), 90, "%")
        findings = [answer for kind in kinds for answer in ANSWERS[kind]]
        yield at_least(f"Seeded faults: precision, {name}", precision(held, findings), 98, "%")
    yield from head_rows(held)
    clean = [one for one in held if one.kind is None]
    yield at_most("Seeded faults: clean panels that raise anything", percent(sum(bool(o.wrong) for o in clean), len(clean)), 2, "%")


def head_rows(outcomes: Sequence[Outcome]) -> Iterator[Row]:
    """Head counts by how the figures were clicked: whatever a hand does, what is told has to be right."""
    off = [one for one in outcomes if one.kind == "head-count" and counts(one)]
    for name in {name: None for one in outcomes for name in one.heads}:
        right, wrong = (sum(one.heads[name][k] for one in outcomes) for k in (0, 1))
        found = sum(one.heads[name][0] > 0 for one in off)
        yield Row(f"Head counts, {name}: recall of {len(off)}", percent(found, len(off)), "%")
        yield at_least(f"Head counts, {name}: precision of {right + wrong} notes", percent(right, right + wrong), 98, "%")
