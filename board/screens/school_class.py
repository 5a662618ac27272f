"""A class: to its instructors the table of its students' work, to a student what it was set."""

from board.access import access_class
from board.screens.class_shell import class_screen

school_class = class_screen("board/school_class.html", access_class, "school_class")
