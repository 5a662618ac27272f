"""Runs one check on one revision, from the inputs that its job row holds, and records what it found."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from board.actions.findings import record_findings
from board.actions.measuring import measure_trends_again, queue_ready_checks
from board.actions.panels import record_panels
from board.actions.proposal_inputs import queue_proposals, queue_proposals_beside
from board.actions.same_as import measure_same_as_again
from board.actions.unmeasured import Unmeasured
from board.check_contract import AwaitedPanel, CheckResult, Findings, GivenInPanel, PageUnderCheck, PanelUnderCheck
from board.check_registry import CHECKS, is_built_on
from board.models import Job
from board.not_measured import NotMeasured
from board.page_format import PageFormat
from board.worker.decoding import decoded
from board.worker.figures import figures_under_check
from board.worker.outcome import Outcome
from board.worker.placed_stills import stills_under_check
from board.worker.reuse import drawn_before, record_reuse
from board.worker.same_as import same_as_under_check
from board.worker.subjects import revision_of


def handle(job: Job) -> Outcome:
    revision = revision_of(job)
    page = page_under_check(job.inputs, decoded(revision.picture).gray)
    if CHECKS[job.check_id].needs_prints:
        page = replace(page, drawn_before=drawn_before(revision))
    result: CheckResult = CHECKS[job.check_id].load()(page)

    def record() -> None:
        found = () if isinstance(result, NotMeasured) else result.found
        if job.check_id == "panels":
            record_panels(revision=revision, found=[] if isinstance(result, NotMeasured) else result.numbers["panels"])
        record_findings(job=job, found=found, unmeasured=unmeasured_in(result))
        if job.check_id == "reuse" and isinstance(result, Findings):
            record_reuse(revision, result)
        if is_built_on(job.check_id):
            queue_ready_checks(revision=revision)
        if job.check_id == "reuse":
            queue_proposals(revision=revision)
            queue_proposals_beside(page=revision.page)
        if job.check_id == "panels":
            measure_same_as_again(revision=revision)
        if job.check_id == "proportions":
            measure_trends_again(revision=revision)

    return Outcome(result if isinstance(result, NotMeasured) else numbers_of(result), record)


def failed(job: Job) -> None:
    """What builds on this check is measured without it."""
    if is_built_on(job.check_id):
        queue_ready_checks(revision=revision_of(job))


def numbers_of(result: Findings) -> dict[str, Any]:
    """What the browser and later checks work from, and which panels showed too little."""
    silent = {str(panel): reason.reason for panel, reason in result.not_measured.items()}
    return {**result.numbers, "not_measured": silent}


def unmeasured_in(result: CheckResult) -> Unmeasured:
    if isinstance(result, NotMeasured):
        return Unmeasured(whole=result.reason)
    figures = {kind: {figure: reason.reason for figure, reason in reasons.items()}
               for kind, reasons in result.figures_not_measured.items()}
    return Unmeasured(panels={panel: reason.reason for panel, reason in result.not_measured.items()}, figures=figures)


def page_under_check(inputs: dict[str, Any], gray: Any) -> PageUnderCheck:
    models, stills = same_as_under_check(inputs, gray), stills_under_check(inputs, gray)
    panels = (_panel(one, inputs.get("eye_heights", {})) for one in inputs.get("panels", []))
    shared = {int(panel): frozenset(others) for panel, others in inputs.get("one_drawing", {}).items()}
    return PageUnderCheck(
        gray=gray,
        stage=inputs["stage"],
        format=PageFormat(*inputs["format"]),
        reading=inputs["reading"],
        is_spread=inputs["is_spread"],
        tolerances=inputs["tolerances"],
        number=inputs.get("number"),
        bound_at=inputs.get("bound_at"),
        panels=tuple(replace(panel, same_as=models.get(panel.id), still=stills.get(panel.id),
                             one_drawing=shared.get(panel.id, frozenset())) for panel in panels),
        figures=figures_under_check(inputs, gray),
        awaited=tuple(_awaited(one) for one in inputs.get("awaited", [])),
        earlier={"perspective": inputs["perspective"]} if "perspective" in inputs else {},
    )


def _panel(one: dict[str, Any], eye_heights: Mapping[str, float]) -> PanelUnderCheck:
    polygon = tuple((point[0], point[1]) for point in one["polygon"])
    given = given_in_panel(one["given"]) if "given" in one else None
    eye_m = eye_heights.get(str(one["id"]))
    return PanelUnderCheck(one["id"], one["order"], polygon, one["framed"], one["left_alone"], eye_m, given)


def _awaited(one: dict[str, Any]) -> AwaitedPanel:
    polygon = tuple((x, y) for x, y in one["polygon"]) if "polygon" in one else None
    return AwaitedPanel(one["id"], one["order"], polygon, one.get("revision"))


def given_in_panel(said: dict[str, Any]) -> GivenInPanel:
    eye_level, edges = said.get("eye_level"), said.get("parallel_edges", [])
    return GivenInPanel(
        (tuple(eye_level[0]), tuple(eye_level[1])) if eye_level else None,
        tuple((x, y) for x, y in said.get("points", [])),
        tuple((tuple(start), tuple(end)) for start, end in edges),
    )
