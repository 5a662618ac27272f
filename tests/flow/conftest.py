"""One board with an editor and an artist, pages drawn in a few lines, and the worker run in this process."""

from collections.abc import Callable, Sequence
from io import BytesIO

import numpy as np
import pytest
from django.contrib.auth import get_user_model
from PIL import Image, ImageDraw

from board.access import Seat, seat_on
from board.actions.boards import create_board
from board.actions.members import add_member
from board.actions.pages import add_page
from board.actions.revisions import receive_revision
from board.models import Board, Job, Page, Revision
from board.models.job import QUEUED
from board.vision.change_map import change_map
from board.vision.page_registration import register_pages
from board.vision.panel_frames import find_panels
from board.worker.run_job import run_job
from tests.flow.remembered import remembered


@pytest.fixture(autouse=True)
def the_same_pictures_are_measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    for place, measure in (
        ("board.worker.carry_notes.register_pages", register_pages),
        ("board.worker.panel_changes.change_map", change_map),
        ("board.page_checks.panels.find_panels", find_panels),
    ):
        monkeypatch.setattr(place, remembered(measure))


@pytest.fixture(autouse=True)
def nothing_is_sent(monkeypatch) -> None:
    monkeypatch.setattr("board.actions.jobs.send_job", lambda job_id: None)


@pytest.fixture
def owner(db) -> Seat:
    user = get_user_model().objects.create_user("maren")
    board = create_board(user=user, title="Spring flood")
    return seat_on(user, board)


@pytest.fixture
def artist(owner: Seat) -> Seat:
    user = get_user_model().objects.create_user("tjark")
    add_member(seat=owner, username="tjark", roles=["artist"])
    return seat_on(user, owner.board)


@pytest.fixture
def board(owner: Seat) -> Board:
    return owner.board


@pytest.fixture
def page(owner: Seat) -> Page:
    return add_page(seat=owner, number=1)


Frames = list[tuple[float, float, float, float]]


def drawn_page(frames: Frames, size: tuple[int, int] = (600, 850), seed: int = 0, redrawn: Sequence[int] = ()) -> BytesIO:
    """What `drawn_array` draws, as a PNG file."""
    file = BytesIO()
    Image.fromarray(drawn_array(frames, size, seed, redrawn)).save(file, "PNG")
    return file


def drawn_array(frames: Frames, size: tuple[int, int] = (600, 850), seed: int = 0, redrawn: Sequence[int] = ()) -> np.ndarray:
    """A page with black frames at these boxes (left, top, right, bottom, as fractions) and a scribble in each.

    The frames of the indices `redrawn` hold another scribble, and the rest of the page stays as it would be without.
    """
    image = Image.new("L", size, 255)
    pen = ImageDraw.Draw(image)
    rng = np.random.default_rng(seed)
    for i, (left, top, right, bottom) in enumerate(frames):
        box = (left * size[0], top * size[1], right * size[0], bottom * size[1])
        pen.rectangle(box, outline=0, width=4)
        circles = [(rng.uniform(box[0] + 30, box[2] - 30), rng.uniform(box[1] + 30, box[3] - 30)) for _ in range(6)]
        if i in redrawn:
            circles = [(box[0] + box[2] - x, y) for x, y in circles]
        for x, y in circles:
            pen.ellipse((x - 12, y - 12, x + 12, y + 12), outline=60, width=3)
    return np.asarray(image)


TWO_TIERS = [(0.06, 0.05, 0.94, 0.47), (0.06, 0.52, 0.94, 0.95)]
THREE_PANELS = [(0.06, 0.05, 0.94, 0.47), (0.06, 0.52, 0.48, 0.95), (0.53, 0.52, 0.94, 0.95)]


@pytest.fixture
def upload(owner: Seat) -> Callable[..., Revision]:
    def upload(page: Page, frames=TWO_TIERS, stage: str = "thumbnail", seed: int = 0, redrawn=(), **options) -> Revision:
        return receive_revision(seat=owner, page=page, file=drawn_page(frames, seed=seed, redrawn=redrawn), stage=stage, **options)

    return upload


@pytest.fixture
def work() -> Callable[..., None]:
    """Runs what is queued, for one revision or for all, until nothing is left."""

    def work(revision: Revision | None = None) -> None:
        for _ in range(50):
            queued = Job.objects.filter(state=QUEUED)
            queued = queued.filter(revision=revision) if revision else queued
            job = queued.order_by("pk").first()
            if job is None:
                return
            run_job(job.pk)
        raise AssertionError("The queue never ran empty.")

    return work
