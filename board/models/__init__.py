"""One noun per file. Models hold rows and facts about one row; writing is done by `board.actions` alone."""

from board.models.api_token import ApiToken
from board.models.assignment import Assignment, AssignmentStage, Criterion
from board.models.board import Board
from board.models.character import Character
from board.models.critique import Critique, CritiqueRound
from board.models.enrolment import Enrolment
from board.models.event import Event
from board.models.figure import Figure, FigurePlace
from board.models.figure_proposal import FigureProposal
from board.models.finding import Finding
from board.models.hand_in import HandIn
from board.models.idempotency import KeptAnswer
from board.models.invitation import Invitation
from board.models.job import Job
from board.models.last_look import LastLook
from board.models.member import Member
from board.models.model_sheet import ModelSheet
from board.models.note import Note, NotePlace, Reply
from board.models.page import Page
from board.models.panel import Panel, PanelShape
from board.models.panel_print import PanelPrint
from board.models.picture import Picture, Rendition
from board.models.reference import Reference
from board.models.review_sheet import ReviewSheet
from board.models.revision import Revision
from board.models.same_as import SameAs
from board.models.school_class import SchoolClass
from board.models.seat_invitation import SeatInvitation
from board.models.sheet import Sheet
from board.models.sign_in_failure import SignInFailure
from board.models.underlay import Underlay
from board.models.versioned import Versioned
from board.models.work import Extension, RubricMark, Work

__all__ = [
    "ApiToken", "Assignment", "AssignmentStage", "Board", "Character", "Criterion", "Critique", "CritiqueRound",
    "Enrolment", "Event", "Extension", "Figure", "FigurePlace", "FigureProposal", "Finding", "HandIn", "Invitation",
    "Job", "KeptAnswer", "LastLook", "Member", "ModelSheet", "Note", "NotePlace", "Page", "Panel", "PanelPrint",
    "PanelShape", "Picture", "Reference", "Rendition", "Reply", "ReviewSheet", "Revision", "RubricMark", "SameAs",
    "SchoolClass", "SeatInvitation", "Sheet", "SignInFailure", "Underlay", "Versioned", "Work",
]
