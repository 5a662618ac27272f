"""`python -m tests.browser.make_demo_board`: the demo board, drawn two fifths as large as people get it and measured, and two pages
of a room on it, for all whose tests look at edges."""

from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

import cv2
import django
import numpy as np

django.setup()

from django.contrib.auth import get_user_model  # noqa: E402 (settings come first)

from board.access import Seat, access_board  # noqa: E402
from board.actions.pages import add_page  # noqa: E402
from board.actions.revisions import receive_revision  # noqa: E402
from board.actions.send_job import keeping_all  # noqa: E402
from board.management.commands.load_demo import finish_work, load_board  # noqa: E402
from board.models import Page  # noqa: E402
from tests.browser.bent_room import BENT, MENDED, two_rooms  # noqa: E402
from tests.kept_from_before import PICTURES, keep, place_of, take_kept  # noqa: E402


def draw(seat: Seat, page: Page, gray: np.ndarray) -> None:
    receive_revision(seat=seat, page=page, file=BytesIO(cv2.imencode(".png", gray)[1].tobytes()), stage="pencil")
    finish_work()


if __name__ == "__main__":
    with TemporaryDirectory() as folder:
        place = place_of("pictures", PICTURES)
        are_drawn = take_kept(place, Path(folder))
        load_board(0.4, folder, print)
        if not are_drawn:
            keep(place, Path(folder))
    artist = access_board(get_user_model().objects.get(username="wim"), 1)
    with keeping_all():
        bent, mended = (add_page(seat=artist, number=number, drawn_by="wim") for number in (BENT, MENDED))
        for page in (bent, mended):
            draw(artist, page, two_rooms(6.0))
        draw(artist, mended, two_rooms())
