"""Addresses of the screens; those of the API are in `api.urls`."""

from django.contrib import admin
from django.urls import include, path
from django.views.generic import RedirectView

from board.screens.account import account
from board.screens.assignment import assignment
from board.screens.boards import boards
from board.screens.classes import classes
from board.screens.compare import compare
from board.screens.critique import critique
from board.screens.desk import desk
from board.screens.hand_in import hand_in
from board.screens.how_measured import how_measured, how_measured_list
from board.screens.join import join
from board.screens.line_up import line_up
from board.screens.pace import pace
from board.screens.progress import progress
from board.screens.read import read
from board.screens.references import references
from board.screens.school_class import school_class
from board.screens.script import script
from board.screens.sign_in import SignIn, SignOut
from board.screens.to_do import to_do
from board.screens.wall import wall

urlpatterns = [
    path("", RedirectView.as_view(pattern_name="boards")),
    path("sign-in", SignIn.as_view(), name="sign-in"),
    path("sign-out", SignOut.as_view(), name="sign-out"),
    path("account", account, name="account"),
    path("boards", boards, name="boards"),
    path("boards/<int:board_id>", wall, name="wall"),
    path("boards/<int:board_id>/read", read, name="read"),
    path("boards/<int:board_id>/line-up", line_up, name="line-up"),
    path("boards/<int:board_id>/references", references, name="references"),
    path("boards/<int:board_id>/script", script, name="script"),
    path("boards/<int:board_id>/pace", pace, name="pace"),
    path("boards/<int:board_id>/to-do", to_do, name="to-do"),
    path("pages/<int:page_id>", desk, name="desk"),
    path("pages/<int:page_id>/compare", compare, name="compare"),
    path("classes", classes, name="classes"),
    path("classes/<int:pk>", school_class, name="school-class"),
    path("assignments/<int:pk>", assignment, name="assignment"),
    path("hand-ins/<int:pk>", hand_in, name="hand-in"),
    path("critiques/<int:pk>", critique, name="critique"),
    path("enrolments/<int:pk>/progress", progress, name="progress"),
    path("how-measured", how_measured_list, name="how-measured-list"),
    path("how-measured/<str:kind>", how_measured, name="how-measured"),
    path("join", join, {"to": "class"}, name="join"),
    path("join-board", join, {"to": "board"}, name="join-board"),
    path("api/v1/", include("api.urls")),
    path("problems/", include("api.problem_page")),
    path("admin/", admin.site.urls),
]
