"""A classmate's work, without a name, and the form to write about it."""

from board.access import access_critique
from board.screens.class_shell import class_screen

critique = class_screen("board/critique.html", access_critique, "critique")
