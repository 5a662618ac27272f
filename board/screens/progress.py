"""One student over the assignments of a class."""

from board.access import access_enrolment
from board.screens.class_shell import class_screen

progress = class_screen("board/progress.html", access_enrolment, "of")
