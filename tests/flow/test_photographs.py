"""A photographed page: kept as it came, laid flat by the worker, and measured from there."""

from io import BytesIO

import cv2
import numpy as np
import pytest
from PIL import Image

from board.actions.revisions import receive_revision
from board.errors import NotValid
from board.models import PanelShape
from tests.flow.conftest import TWO_TIERS, drawn_array

CORNERS = [[0.2, 0.12], [0.78, 0.2], [0.9, 0.92], [0.1, 0.86]]


def photograph() -> BytesIO:
    """The page on a dark table, seen from a slant."""
    page = drawn_array(TWO_TIERS)
    size = (1200, 1600)
    corners = np.float32(CORNERS) * np.float32(size)
    flat = np.float32([[0, 0], [600, 0], [600, 850], [0, 850]])
    photo = cv2.warpPerspective(page, cv2.getPerspectiveTransform(flat, corners), size, borderValue=70)
    file = BytesIO()
    Image.fromarray(photo).save(file, "JPEG", quality=90)
    file.seek(0)
    return file


def test_a_photograph_is_laid_flat_and_its_panels_are_found(owner, page, work):
    revision = receive_revision(seat=owner, page=page, file=photograph(), stage="thumbnail", corners=CORNERS)
    work()
    revision.refresh_from_db()
    assert revision.state == "ready"
    assert revision.photo.media_type == "image/jpeg" and revision.photo != revision.picture
    shapes = list(PanelShape.objects.filter(revision=revision).order_by("order"))
    found = [np.array(shape.polygon) for shape in shapes]
    assert len(found) == len(TWO_TIERS)
    for polygon, (left, top, right, bottom) in zip(found, TWO_TIERS, strict=True):
        box = [*polygon.min(axis=0), *polygon.max(axis=0)]
        assert box == pytest.approx([left, top, right, bottom], abs=0.02)


def test_corners_that_hold_no_page_are_refused_at_once(owner, page):
    crossed = [CORNERS[0], CORNERS[2], CORNERS[1], CORNERS[3]]
    with pytest.raises(NotValid):
        receive_revision(seat=owner, page=page, file=photograph(), stage="thumbnail", corners=crossed)
    assert not page.revisions.exists()


def test_a_page_too_small_on_its_photograph_is_refused_with_the_reason(owner, page, work):
    speck = [[0.5, 0.5], [0.52, 0.5], [0.52, 0.52], [0.5, 0.52]]
    revision = receive_revision(seat=owner, page=page, file=photograph(), stage="thumbnail", corners=speck)
    work()
    revision.refresh_from_db()
    assert (revision.state, revision.reason.split(".")[0]) == ("refused", "The page fills too little of the photograph")
