"""When a page or a panel may move: pure rules, (facts) -> Refusal | None. A new rule is one function in the tuple of its move."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from board.stages.order import stage_by_pictures, stages_up_to

REVIEWERS = frozenset({"editor", "instructor"})
DRAWERS = frozenset({"artist", "student"})


@dataclass(frozen=True)
class Refusal:
    """Why a move is not made: `code` for programs, `reason` for people."""

    code: str
    reason: str


@dataclass(frozen=True)
class MoveFacts:
    """All that the rules look at. Counts belong to the page, or to the one panel that is moved."""

    stage: str
    roles: frozenset[str]
    draws_this_page: bool = True  # a student: the page is theirs
    is_handed_in: bool = False
    is_finished: bool = False
    drawn_stages: frozenset[str] = frozenset()
    open_must_notes: int = 0
    running_checks: int = 0
    panels_sent_back: int = 0
    is_panel: bool = False
    panel_is_sent_back: bool = False
    drawn_since: frozenset[str] = frozenset()  # the stages at which a panel was drawn since it was sent back
    to_stage: str | None = None
    is_laid_aside: bool = False
    is_assigned: bool = False  # a student's board of a class: stages are handed in whole, with a receipt
    revision_number: int | None = None  # of the page's picture now
    is_of_another_picture: bool = False  # whoever moves it names one that is not the page's now
    is_being_read: bool = False  # the picture that would move; nobody knows yet whether its file can be opened


Rule = Callable[[MoveFacts], Refusal | None]


def stage_that_moves(facts: MoveFacts) -> str:
    """What is handed in or signed off. In a class it is never a later one: each stage is handed in by its own deadline."""
    drawn = facts.drawn_since if facts.is_panel else facts.drawn_stages
    return facts.stage if facts.is_assigned else stage_by_pictures(facts.stage, drawn)


def first_refusal(rules: Iterable[Rule], facts: MoveFacts) -> Refusal | None:
    return next((refusal for rule in rules if (refusal := rule(facts))), None)


def not_when_laid_aside(facts: MoveFacts) -> Refusal | None:
    return Refusal("laid-aside", "The page is laid aside. Bring it back first.") if facts.is_laid_aside else None


def only_a_drawer(facts: MoveFacts) -> Refusal | None:
    if facts.roles & {"artist"} or ("student" in facts.roles and facts.draws_this_page):
        return None
    return Refusal("not-an-artist", "Only who draws the page can hand it in.")


def only_a_reviewer(facts: MoveFacts) -> Refusal | None:
    if facts.roles & REVIEWERS:
        return None
    return Refusal("not-a-reviewer", "Only an editor or an instructor can do this.")


def not_when_finished(facts: MoveFacts) -> Refusal | None:
    return Refusal("finished", "The page is finished. Send it back to work on it again.") if facts.is_finished else None


def handed_in_by_the_stage(facts: MoveFacts) -> Refusal | None:
    if facts.is_panel or not facts.is_assigned:
        return None
    return Refusal("assignment", "Hand in the whole stage from the assignment; you get a receipt for it.")


def a_revision_is_there(facts: MoveFacts) -> Refusal | None:
    if facts.is_panel or stage_that_moves(facts) in facts.drawn_stages:
        return None
    return Refusal("no-revision", f"There is no picture at the {facts.stage} stage yet. Upload one first.")


def the_picture_was_read(facts: MoveFacts) -> Refusal | None:
    """Its file may yet turn out to be one that nobody can open."""
    return Refusal("being-read", "Its picture is still being read. Wait a moment and try again.") if facts.is_being_read else None


def of_the_picture_that_is_there(facts: MoveFacts) -> Refusal | None:
    """Nobody signs off, or sends back, what they did not see."""
    if not facts.is_of_another_picture:
        return None
    if facts.revision_number is None:
        return Refusal("another-picture", "The picture that you looked at is withdrawn.")
    return Refusal("another-picture", f"Revision {facts.revision_number} is the page's picture by now. Look at it first.")


def the_panel_is_drawn_anew(facts: MoveFacts) -> Refusal | None:
    if not facts.is_panel or stage_that_moves(facts) in facts.drawn_since:
        return None
    drawn = f"Nothing was drawn of it at the {facts.stage} stage since it was sent back."
    return Refusal("not-drawn-anew", f"{drawn} Upload the page, or a try at the panel, first.")


def not_handed_in_twice(facts: MoveFacts) -> Refusal | None:
    if not facts.is_handed_in:
        return None
    return Refusal("already-handed-in", "It is handed in already and waits for the reviewer.")


def handed_in_unless_ones_own(facts: MoveFacts) -> Refusal | None:
    """Who is artist and editor at once signs off in one click; a hand-in to oneself would be ceremony."""
    if facts.is_panel or facts.is_handed_in or facts.roles & {"artist"}:
        return None
    return Refusal("not-handed-in", "It is not handed in yet; the artist may still be at work on it.")


def no_open_must_note(facts: MoveFacts) -> Refusal | None:
    if not facts.open_must_notes:
        return None
    notes = "1 must note is" if facts.open_must_notes == 1 else f"{facts.open_must_notes} must notes are"
    return Refusal("open-must-notes", f"{notes} still open. Settle it, let it stand, or send the page back.")


def no_check_running(facts: MoveFacts) -> Refusal | None:
    if not facts.running_checks:
        return None
    return Refusal("checks-running", "The newest picture is still being measured. Wait a moment and try again.")


def no_panel_sent_back(facts: MoveFacts) -> Refusal | None:
    if facts.is_panel or not facts.panels_sent_back:
        return None
    panels = "1 panel is" if facts.panels_sent_back == 1 else f"{facts.panels_sent_back} panels are"
    return Refusal("panels-sent-back", f"{panels} sent back and not signed off again.")


def back_to_where_it_was(facts: MoveFacts) -> Refusal | None:
    if facts.to_stage is None or facts.to_stage in stages_up_to(facts.stage):
        return None
    return Refusal("not-back", "Sending back leads to this stage or an earlier one.")


def something_to_send_back(facts: MoveFacts) -> Refusal | None:
    goes_back = facts.to_stage not in (None, facts.stage)
    if facts.is_panel or facts.is_handed_in or facts.is_finished or goes_back:
        return None
    return Refusal("not-handed-in", "The artist has it already.")


def the_panel_is_sent_back(facts: MoveFacts) -> Refusal | None:
    if not facts.is_panel or facts.panel_is_sent_back:
        return None
    return Refusal("not-sent-back", "This panel moves with its page; it was not sent back on its own.")


MOVES: dict[str, tuple[Rule, ...]] = {
    "hand-in": (
        only_a_drawer, not_when_laid_aside, handed_in_by_the_stage, not_when_finished, the_panel_is_sent_back, not_handed_in_twice,
        of_the_picture_that_is_there, the_panel_is_drawn_anew, a_revision_is_there,
        the_picture_was_read,
    ),
    "sign-off": (
        only_a_reviewer, not_when_laid_aside, not_when_finished, the_panel_is_sent_back, of_the_picture_that_is_there,
        a_revision_is_there, handed_in_unless_ones_own, no_panel_sent_back, no_open_must_note, no_check_running,
        the_picture_was_read,
    ),
    "send-back": (only_a_reviewer, not_when_laid_aside, back_to_where_it_was, something_to_send_back, of_the_picture_that_is_there),
}


def refusal_of(move: str, facts: MoveFacts) -> Refusal | None:
    """What stands against this move, the first thing only; None when it may be made. Raises KeyError for an unknown move."""
    return first_refusal(MOVES[move], facts)
