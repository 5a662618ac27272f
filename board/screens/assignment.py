from board.access import access_assignment
from board.screens.class_shell import class_screen

assignment = class_screen("board/assignment.html", access_assignment, "assignment")
