"""The words of the whole comic, page by page and panel by panel, beside what is drawn of them."""

from board.screens.board_shell import drawn_by_script

script = drawn_by_script("board/script.html")
