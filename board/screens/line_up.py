"""The cast on one ground line."""

from board.screens.board_shell import drawn_by_script

line_up = drawn_by_script("board/line_up.html")
