"""The receipt of a hand-in, to look at again or to print."""

from board.access import access_hand_in
from board.screens.class_shell import class_screen

hand_in = class_screen("board/hand_in.html", access_hand_in, "hand_in")
