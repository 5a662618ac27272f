"""The comic and nothing else, spread by spread, as its readers will turn it over."""

from board.screens.board_shell import drawn_by_script

read = drawn_by_script("board/read.html")
