"""The pictures that panels are drawn from."""

from board.screens.board_shell import drawn_by_script

references = drawn_by_script("board/references.html")
