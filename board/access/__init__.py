"""The only permission code. `access_*` fetches a row for a person, or raises NotFound (not theirs to see) or NotAllowed."""

from board.access.boards import access_board, access_member, counted_for, counted_notes_for, visible_boards
from board.access.cast import access_character, access_model_sheet
from board.access.classes import (
    ClassSeat,
    access_class,
    access_enrolment,
    access_invitation,
    class_seat,
    instructors_of,
    instructs,
    visible_classes,
    visible_enrolments,
)
from board.access.critiques import (
    access_critique,
    access_critique_picture,
    access_round,
    is_about_own_work,
    sees_picture,
    visible_critiques,
    writes_it,
)
from board.access.events import visible_events
from board.access.jobs import access_job, visible_jobs
from board.access.measured import measured_is_shown, numbers_are_shown
from board.access.notes import access_note, access_reply, may_answer, may_edit, may_let_stand, may_settle, visible_notes
from board.access.pages import (
    access_figure,
    access_figure_proposal,
    access_page,
    access_page_to_draw,
    access_panel,
    may_draw_on,
    may_work_on,
    own_or_opened,
    visible_pages,
)
from board.access.references import access_reference, may_remove
from board.access.review_sheets import access_review_sheet, visible_review_sheets
from board.access.revisions import access_revision, access_underlay, visible_revisions
from board.access.seats import Need, Seat, require, seat_on, seats_of, signed_in
from board.access.sheets import access_sheet, visible_sheets
from board.access.works import (
    access_assignment,
    access_extension,
    access_hand_in,
    access_opened_picture,
    access_work,
    is_ones_own,
    opened_pages,
    visible_works,
)

__all__ = [
    "ClassSeat",
    "Need",
    "Seat",
    "access_assignment",
    "access_board",
    "access_character",
    "access_class",
    "access_critique",
    "access_critique_picture",
    "access_enrolment",
    "access_extension",
    "access_figure",
    "access_figure_proposal",
    "access_hand_in",
    "access_invitation",
    "access_job",
    "access_member",
    "access_model_sheet",
    "access_note",
    "access_opened_picture",
    "access_page",
    "access_page_to_draw",
    "access_panel",
    "access_reference",
    "access_reply",
    "access_review_sheet",
    "access_revision",
    "access_round",
    "access_sheet",
    "access_underlay",
    "access_work",
    "class_seat",
    "counted_for",
    "counted_notes_for",
    "instructors_of",
    "instructs",
    "is_about_own_work",
    "is_ones_own",
    "may_answer",
    "may_draw_on",
    "may_edit",
    "may_let_stand",
    "may_remove",
    "may_settle",
    "may_work_on",
    "measured_is_shown",
    "numbers_are_shown",
    "opened_pages",
    "own_or_opened",
    "require",
    "seat_on",
    "seats_of",
    "sees_picture",
    "signed_in",
    "visible_boards",
    "visible_classes",
    "visible_critiques",
    "visible_enrolments",
    "visible_events",
    "visible_jobs",
    "visible_notes",
    "visible_pages",
    "visible_review_sheets",
    "visible_revisions",
    "visible_sheets",
    "visible_works",
    "writes_it",
]
