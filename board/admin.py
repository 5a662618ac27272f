"""Everything can be looked at, nothing changed: writing is done by actions alone."""

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from board import models
from board.slow_guessing import SlowedAdminForm


class LookOnly(admin.ModelAdmin):
    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False


admin.site.login_form = SlowedAdminForm

# Tokens and kept answers stay out: nobody has to look at those.
SHOWN = {
    models.Board: ("title", "reading", "created_at"),
    models.Member: ("board", "user", "roles"),
    models.Page: ("board", "numbers_text", "stage", "waits_for"),
    models.Panel: ("page", "order", "sent_back_to", "is_gone"),
    models.SameAs: ("panel", "model", "state", "said_by"),
    models.Revision: ("page", "number", "stage", "alternate", "state", "uploaded_by", "uploaded_at"),
    models.Sheet: ("board", "state", "uploaded_at"),
    models.Reference: ("board", "kind", "title", "state"),
    models.Character: ("board", "name", "key", "height_m", "age_band"),
    models.ModelSheet: ("character", "view", "from_page", "reference"),
    models.Figure: ("page", "character", "panel", "pose"),
    models.Note: ("board", "page", "tone", "state", "check_id", "author"),
    models.Finding: ("kind", "revision", "measured", "expected", "unit", "trend"),
    models.Job: ("kind", "check_id", "revision", "state", "tries", "reason"),
    models.SchoolClass: ("title", "term", "ends_on", "kept_until"),
    models.Enrolment: ("school_class", "place", "alias", "is_minor"),
    models.Assignment: ("school_class", "title", "page_count", "measured_shown"),
    models.Work: ("assignment", "enrolment", "board"),
    models.HandIn: ("work", "stage", "receipt", "handed_in_at", "minutes_late"),
    models.CritiqueRound: ("assignment", "stage", "each_reads", "is_anonymous", "delivered_at"),
    models.Event: ("board", "number", "kind", "at", "actor"),
}
for model, columns in SHOWN.items():
    admin.site.register(model, LookOnly, list_display=columns)
