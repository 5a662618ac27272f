"""What people see of a picture that is clear in parts: its drawing, whichever tone it has."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from board.upload_limits import UploadLimits
from board.vision.picture_decoding import decode_picture

WHITE, BLACK, BLUE_LINE, INK = (255, 255, 255), (0, 0, 0), (164, 221, 237), (30, 26, 34)


def laid_on_paper(line, *, paper=None) -> np.ndarray:
    """A frame on a clear sheet, or on one with paper of its own."""
    drawn = np.zeros((60, 40, 4), np.uint8)
    if paper:
        drawn[:55] = (*paper, 255)
    drawn[10:50, [5, 34]] = drawn[[10, 49], 5:35] = (*line, 255)
    file = BytesIO()
    Image.fromarray(drawn).save(file, "PNG")
    return np.asarray(decode_picture(file, UploadLimits()).image.convert("RGB"))


@pytest.mark.parametrize(("line", "paper"), [(INK, WHITE), (BLUE_LINE, WHITE), (WHITE, BLACK)])
def test_a_drawing_on_a_clear_sheet_lies_on_what_it_is_seen_on(line, paper):
    page = laid_on_paper(line)
    assert (page[30, 5] == line).all()
    assert (page[30, 20] == paper).all()


@pytest.mark.parametrize("line", [INK, WHITE])
def test_paper_that_is_drawn_stays_on_white(line):
    page = laid_on_paper(line, paper=WHITE)
    assert (page[58, 20] == WHITE).all()


def test_a_sheet_with_nothing_on_it_is_white():
    file = BytesIO()
    Image.new("RGBA", (20, 30)).save(file, "PNG")
    assert np.asarray(decode_picture(file, UploadLimits()).image).min() == 255
