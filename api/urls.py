"""The route table: one row per endpoint."""

from django.urls import path, re_path

from api.annotations import BoardAnnotations, NoteAnnotation
from api.assignments import ClassAssignments, OneAssignment
from api.boards import BoardDrawings, Boards, OneBoard
from api.characters import BoardCharacters, CharacterMergings, OneCharacter
from api.checks import Checks
from api.chosen_alternates import PageChosenAlternate, PanelChosenAlternate
from api.classes import Classes, OneClass
from api.critique_rounds import AssignmentRounds, OneRound, RoundDelivery, RoundNewcomers
from api.critiques import AssignmentCritiques, CritiquePage, CritiquePoints, CritiqueSending, OneCritique
from api.enrolment_data import EnrolmentDeletion, EnrolmentExport
from api.enrolments import ClassEnrolments, OneEnrolment
from api.events import BoardEvents
from api.figure_posts import FigurePosts
from api.figure_proposals import OneFigureProposal, RevisionFigureProposals
from api.figures import OneFigure, RevisionFigures
from api.given_perspectives import GivenPerspective
from api.hand_ins import OneHandIn, WorkHandIns
from api.invitations import ClassInvitations, InvitationAcceptances, InvitationPreviews, OneInvitation
from api.jobs import BoardJobs, JobTries, OneJob, RevisionJobs
from api.last_looks import BoardLastLook, PageLastLook
from api.left_alone import LeftAlone
from api.me import Me, OwnPassword
from api.members import BoardMembers, OneMember
from api.model_sheets import CharacterSheets, OneModelSheet
from api.note_states import Answer, Settlement, Stet
from api.notes import BoardNotes, OneNote, PageNotes
from api.nothing_here import NothingHere
from api.opened_pages import AssignmentOpenedPages, OpenedPageRendition
from api.pace import BoardPace
from api.page_order import BoardRenumberings, PagePlace
from api.pages import BoardPages, LaidAsidePages, OnePage, PageLaidAside
from api.panel_history import PanelHistory
from api.panels import BoardPanels, OnePanel, PagePanels
from api.picture_endpoints import (
    ReferenceFile,
    ReferenceRendition,
    RevisionFile,
    RevisionPhoto,
    RevisionRendition,
    SheetFile,
    SheetRendition,
)
from api.presets import Presets
from api.reference_cameras import ReferenceCamera
from api.references import BoardReferences, OneReference
from api.registrations import Registration
from api.replies import NoteReplies
from api.review_sheets import BoardReviewSheets, OneReviewSheet, ReviewSheetFile
from api.revision_panels import RevisionPanels
from api.revisions import OneRevision, PageRevisions, PageRevisionsInBrief
from api.rosters import RosterImports, RosterPreviews
from api.same_as import OneSameAs, PanelSameAs
from api.schema_view import Schema
from api.scripts import BoardScript, ScriptPreviews, Scripts
from api.seat_invitations import BoardInvitations, OneSeatInvitation, SeatInvitationAcceptances, SeatInvitationPreviews
from api.sendings import BoardSendings
from api.shared_notes import AssignmentSharedNotes
from api.sheets import BoardSheets, OneSheet, SheetCuts
from api.stage_moves import PageStageMoves, PanelStageMoves
from api.still_placements import StillPlacement
from api.still_searches import StillSearch
from api.stills import Still
from api.tables import AssignmentTable, AssignmentTableFile, EnrolmentProgress
from api.tokens import Tokens
from api.underlays import OneUnderlay, RevisionUnderlays, UnderlayFiles
from api.withdrawals import Withdrawal
from api.works import OneExtension, OneWork, WorkExtensions, WorkMarks

app_name = "api"
urlpatterns = [
    path("tokens", Tokens.as_view(), name="tokens"),
    path("me", Me.as_view(), name="me"),
    path("me/password", OwnPassword.as_view(), name="me-password"),
    path("checks", Checks.as_view(), name="checks"),
    path("boards", Boards.as_view(), name="boards"),
    path("boards/<int:pk>", OneBoard.as_view(), name="board"),
    path("boards/<int:pk>/drawings", BoardDrawings.as_view(), name="board-drawings"),
    path("boards/<int:pk>/members", BoardMembers.as_view(), name="board-members"),
    path("members/<int:pk>", OneMember.as_view(), name="member"),
    path("boards/<int:pk>/invitations", BoardInvitations.as_view(), name="board-invitations"),
    path("seat-invitations/<int:pk>", OneSeatInvitation.as_view(), name="seat-invitation"),
    path("seat-invitation-previews", SeatInvitationPreviews.as_view(), name="seat-invitation-previews"),
    path("seat-invitation-acceptances", SeatInvitationAcceptances.as_view(), name="seat-invitation-acceptances"),
    path("boards/<int:pk>/pages", BoardPages.as_view(), name="board-pages"),
    path("boards/<int:pk>/laid-aside-pages", LaidAsidePages.as_view(), name="board-laid-aside-pages"),
    path("boards/<int:pk>/renumberings", BoardRenumberings.as_view(), name="board-renumberings"),
    path("boards/<int:pk>/panels", BoardPanels.as_view(), name="board-panels"),
    path("boards/<int:pk>/script", BoardScript.as_view(), name="board-script"),
    path("boards/<int:pk>/script-previews", ScriptPreviews.as_view(), name="board-script-previews"),
    path("boards/<int:pk>/scripts", Scripts.as_view(), name="board-scripts"),
    path("boards/<int:pk>/pace", BoardPace.as_view(), name="board-pace"),
    path("boards/<int:pk>/last-look", BoardLastLook.as_view(), name="board-last-look"),
    path("pages/<int:pk>/place", PagePlace.as_view(), name="page-place"),
    path("pages/<int:pk>/laid-aside", PageLaidAside.as_view(), name="page-laid-aside"),
    path("pages/<int:pk>/last-look", PageLastLook.as_view(), name="page-last-look"),
    path("pages/<int:pk>", OnePage.as_view(), name="page"),
    path("pages/<int:pk>/chosen-alternate", PageChosenAlternate.as_view(), name="page-chosen-alternate"),
    path("pages/<int:pk>/stage-moves", PageStageMoves.as_view(), name="page-stage-moves"),
    path("pages/<int:pk>/revisions", PageRevisions.as_view(), name="page-revisions"),
    path("pages/<int:pk>/revisions-in-brief", PageRevisionsInBrief.as_view(), name="page-revisions-in-brief"),
    path("revisions/<int:pk>", OneRevision.as_view(), name="revision"),
    path("revisions/<int:pk>/file", RevisionFile.as_view(), name="revision-file"),
    path("revisions/<int:pk>/photo", RevisionPhoto.as_view(), name="revision-photo"),
    path("revisions/<int:pk>/renditions/<int:nominal_px>", RevisionRendition.as_view(), name="revision-rendition"),
    path("revisions/<int:pk>/withdrawal", Withdrawal.as_view(), name="revision-withdrawal"),
    path("revisions/<int:pk>/panels", RevisionPanels.as_view(), name="revision-panels"),
    path("revisions/<int:pk>/registration", Registration.as_view(), name="revision-registration"),
    path("revisions/<int:pk>/jobs", RevisionJobs.as_view(), name="revision-jobs"),
    path("revisions/<int:pk>/underlays", RevisionUnderlays.as_view(), name="revision-underlays"),
    path("underlays/<int:pk>", OneUnderlay.as_view(), name="underlay"),
    path("underlays/<int:pk>/files/<str:kind>", UnderlayFiles.as_view(), name="underlay-files"),
    path("pages/<int:pk>/panels", PagePanels.as_view(), name="page-panels"),
    path("panels/<int:pk>", OnePanel.as_view(), name="panel"),
    path("panels/<int:pk>/history", PanelHistory.as_view(), name="panel-history"),
    path("panels/<int:pk>/still", Still.as_view(), name="panel-still"),
    path("panels/<int:pk>/same-as", PanelSameAs.as_view(), name="panel-same-as"),
    path("panels/<int:pk>/same-as/<int:model>", OneSameAs.as_view(), name="panel-same-as-one"),
    path("panels/<int:pk>/left-alone/<str:check>", LeftAlone.as_view(), name="panel-left-alone"),
    path("panels/<int:pk>/still/search", StillSearch.as_view(), name="panel-still-search"),
    path("panels/<int:pk>/still/placement", StillPlacement.as_view(), name="panel-still-placement"),
    path("panels/<int:pk>/perspective", GivenPerspective.as_view(), name="panel-perspective"),
    path("panels/<int:pk>/figure-posts", FigurePosts.as_view(), name="panel-figure-posts"),
    path("panels/<int:pk>/chosen-alternate", PanelChosenAlternate.as_view(), name="panel-chosen-alternate"),
    path("panels/<int:pk>/stage-moves", PanelStageMoves.as_view(), name="panel-stage-moves"),
    path("pages/<int:pk>/notes", PageNotes.as_view(), name="page-notes"),
    path("boards/<int:pk>/notes", BoardNotes.as_view(), name="board-notes"),
    path("boards/<int:pk>/sendings", BoardSendings.as_view(), name="board-sendings"),
    path("boards/<int:pk>/annotations", BoardAnnotations.as_view(), name="board-annotations"),
    path("notes/<int:pk>/annotation", NoteAnnotation.as_view(), name="note-annotation"),
    path("notes/<int:pk>", OneNote.as_view(), name="note"),
    path("notes/<int:pk>/answer", Answer.as_view(), name="note-answer"),
    path("notes/<int:pk>/settlement", Settlement.as_view(), name="note-settlement"),
    path("notes/<int:pk>/stet", Stet.as_view(), name="note-stet"),
    path("notes/<int:pk>/replies", NoteReplies.as_view(), name="note-replies"),
    path("boards/<int:pk>/sheets", BoardSheets.as_view(), name="board-sheets"),
    path("sheets/<int:pk>", OneSheet.as_view(), name="sheet"),
    path("sheets/<int:pk>/file", SheetFile.as_view(), name="sheet-file"),
    path("sheets/<int:pk>/renditions/<int:nominal_px>", SheetRendition.as_view(), name="sheet-rendition"),
    path("sheets/<int:pk>/cuts", SheetCuts.as_view(), name="sheet-cuts"),
    path("boards/<int:pk>/references", BoardReferences.as_view(), name="board-references"),
    path("references/<int:pk>", OneReference.as_view(), name="reference"),
    path("references/<int:pk>/camera", ReferenceCamera.as_view(), name="reference-camera"),
    path("references/<int:pk>/file", ReferenceFile.as_view(), name="reference-file"),
    path("references/<int:pk>/renditions/<int:nominal_px>", ReferenceRendition.as_view(), name="reference-rendition"),
    path("presets", Presets.as_view(), name="presets"),
    path("boards/<int:pk>/characters", BoardCharacters.as_view(), name="board-characters"),
    path("characters/<int:pk>", OneCharacter.as_view(), name="character"),
    path("characters/<int:pk>/mergings", CharacterMergings.as_view(), name="character-mergings"),
    path("characters/<int:pk>/sheets", CharacterSheets.as_view(), name="character-sheets"),
    path("model-sheets/<int:pk>", OneModelSheet.as_view(), name="model-sheet"),
    path("revisions/<int:pk>/figures", RevisionFigures.as_view(), name="revision-figures"),
    path("revisions/<int:pk>/figure-proposals", RevisionFigureProposals.as_view(), name="revision-figure-proposals"),
    path("figure-proposals/<int:pk>", OneFigureProposal.as_view(), name="figure-proposal"),
    path("figures/<int:pk>", OneFigure.as_view(), name="figure"),
    path("boards/<int:pk>/review-sheets", BoardReviewSheets.as_view(), name="board-review-sheets"),
    path("review-sheets/<int:pk>", OneReviewSheet.as_view(), name="review-sheet"),
    path("review-sheets/<int:pk>/file", ReviewSheetFile.as_view(), name="review-sheet-file"),
    path("boards/<int:pk>/jobs", BoardJobs.as_view(), name="board-jobs"),
    path("jobs/<int:pk>", OneJob.as_view(), name="job"),
    path("jobs/<int:pk>/tries", JobTries.as_view(), name="job-tries"),
    path("boards/<int:pk>/events", BoardEvents.as_view(), name="board-events"),
    path("classes", Classes.as_view(), name="classes"),
    path("classes/<int:pk>", OneClass.as_view(), name="class"),
    path("classes/<int:pk>/enrolments", ClassEnrolments.as_view(), name="class-enrolments"),
    path("classes/<int:pk>/roster-previews", RosterPreviews.as_view(), name="class-roster-previews"),
    path("classes/<int:pk>/roster-imports", RosterImports.as_view(), name="class-roster-imports"),
    path("classes/<int:pk>/invitations", ClassInvitations.as_view(), name="class-invitations"),
    path("classes/<int:pk>/assignments", ClassAssignments.as_view(), name="class-assignments"),
    path("invitations/<int:pk>", OneInvitation.as_view(), name="invitation"),
    path("invitation-previews", InvitationPreviews.as_view(), name="invitation-previews"),
    path("invitation-acceptances", InvitationAcceptances.as_view(), name="invitation-acceptances"),
    path("enrolments/<int:pk>", OneEnrolment.as_view(), name="enrolment"),
    path("enrolments/<int:pk>/progress", EnrolmentProgress.as_view(), name="enrolment-progress"),
    path("enrolments/<int:pk>/export", EnrolmentExport.as_view(), name="enrolment-export"),
    path("enrolments/<int:pk>/deletion", EnrolmentDeletion.as_view(), name="enrolment-deletion"),
    path("assignments/<int:pk>", OneAssignment.as_view(), name="assignment"),
    path("assignments/<int:pk>/table", AssignmentTable.as_view(), name="assignment-table"),
    path("assignments/<int:pk>/table-file", AssignmentTableFile.as_view(), name="assignment-table-file"),
    path("assignments/<int:pk>/shared-notes", AssignmentSharedNotes.as_view(), name="assignment-shared-notes"),
    path("assignments/<int:pk>/opened-pages", AssignmentOpenedPages.as_view(), name="assignment-opened-pages"),
    path(
        "assignments/<int:pk>/opened-pages/<int:place>/renditions/<int:nominal_px>", OpenedPageRendition.as_view(),
        name="assignment-opened-page",
    ),
    path("assignments/<int:pk>/critique-rounds", AssignmentRounds.as_view(), name="assignment-rounds"),
    path("assignments/<int:pk>/critiques", AssignmentCritiques.as_view(), name="assignment-critiques"),
    path("critique-rounds/<int:pk>", OneRound.as_view(), name="round"),
    path("critique-rounds/<int:pk>/newcomers", RoundNewcomers.as_view(), name="round-newcomers"),
    path("critique-rounds/<int:pk>/delivery", RoundDelivery.as_view(), name="round-delivery"),
    path("critiques/<int:pk>", OneCritique.as_view(), name="critique"),
    path("critiques/<int:pk>/points", CritiquePoints.as_view(), name="critique-points"),
    path("critiques/<int:pk>/sending", CritiqueSending.as_view(), name="critique-sending"),
    path("critiques/<int:pk>/pages/<int:page>/renditions/<int:nominal_px>", CritiquePage.as_view(), name="critique-page"),
    path("works/<int:pk>", OneWork.as_view(), name="work"),
    path("works/<int:pk>/marks", WorkMarks.as_view(), name="work-marks"),
    path("works/<int:pk>/hand-ins", WorkHandIns.as_view(), name="work-hand-ins"),
    path("works/<int:pk>/extensions", WorkExtensions.as_view(), name="work-extensions"),
    path("hand-ins/<int:pk>", OneHandIn.as_view(), name="hand-in"),
    path("extensions/<int:pk>", OneExtension.as_view(), name="extension"),
    path("schema", Schema.as_view(), name="schema"),
    re_path("", NothingHere.as_view()),
]
