"""Puts the demo comic on a board, the way its people would have: uploads, notes, answers and stage moves, in order."""

from collections.abc import Callable
from pathlib import Path

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser

from board.access import Seat, seat_on
from board.actions.boards import create_board
from board.actions.members import add_member
from board.actions.note_states import set_note_state
from board.actions.notes import pin_note, reply_to_note
from board.actions.pages import add_page, change_page
from board.actions.panels import add_panel
from board.actions.people import add_person
from board.actions.references import add_reference, tie_still
from board.actions.revisions import receive_revision
from board.actions.same_as import declare_same_as
from board.actions.sheets import cut_sheet, receive_sheet
from board.actions.stage_moves import move_page
from board.actions.still_places import place_still
from board.management.demo_figures import MARKED, load_cast, mark_drawn_figures
from board.management.demo_people import DEMO_PEOPLE
from board.models import Board, Page, Panel, Revision, Sheet
from board.page_format import FORMATS
from board.page_space import bounds
from board.stages.order import STAGES
from fixtures.demo_data import DemoBoard, DemoNote, DemoPicture

# The comic is drawn at 300 dots per inch, and its printer would like more: something to see at the final stage.
WHAT_THE_PRINTER_ASKS = {"print-size": {"least_dpi": 350.0}}


PLACED = "still-01-2.png"  # lies under its panel, so that the two are held against each other
# Sheets, then pages as they were uploaded, then the stills that are tied to their panels.
TURN = {"sheet": 0, "page": 1, "spread": 1, "still": 2}


def in_order_of_use(demo: DemoBoard) -> list[DemoPicture]:
    return sorted(demo.pictures, key=lambda picture: TURN[picture.kind])


class DemoLoading:
    """`picture` gives the file of a name. `finish_work` runs what was queued; the next step often builds on it (a note lies on a
    panel that had to be found)."""

    def __init__(
        self, demo: DemoBoard, picture: Callable[[str], Path], finish_work: Callable[[], None], say: Callable[[str], None]
    ) -> None:
        self.demo, self.picture, self.finish_work, self.say = demo, picture, finish_work, say
        self.pages: dict[int, Page] = {}
        self.seats: dict[str, Seat] = {}

    def load(self) -> Board:
        board = self._board_with_people()
        self._pages_with_words()
        self.cast = load_cast(next(seat for seat in self.seats.values() if "artist" in seat.roles))
        for picture in in_order_of_use(self.demo):
            if picture.kind == "sheet":
                self._cut(picture)
            elif picture.kind == "still":
                self._tie(picture)
            else:
                self._upload(picture)
                self._write_notes(picture)
        self._declare_same_as()
        self._reach_last_stages()
        self.finish_work()
        return board

    def _board_with_people(self) -> Board:
        passwords = {person.name: person.password for person in DEMO_PEOPLE}
        members = self.demo.members
        people = {m.username: add_person(username=m.username, password=passwords[m.username], name=m.display_name) for m in members}
        editor = next(member for member in members if "editor" in member.roles)
        form = FORMATS[self.demo.format]
        board = create_board(
            user=people[editor.username], title=self.demo.title, roles=editor.roles, reading=self.demo.reading,
            trim_width_mm=form.trim_width_mm, trim_height_mm=form.trim_height_mm, bleed_mm=form.bleed_mm, safe_mm=form.safe_mm,
            own_tolerances=WHAT_THE_PRINTER_ASKS,
        )
        self.seats[editor.username] = self.editor = self._seat(people[editor.username], board)
        for member in members:
            if member is not editor:
                add_member(seat=self.editor, username=member.username, roles=member.roles)
                self.seats[member.username] = self._seat(people[member.username], board)
        return board

    def _seat(self, user: AbstractBaseUser, board: Board) -> Seat:
        seat = seat_on(get_user_model().objects.get(pk=user.pk), board)
        assert seat is not None
        return seat

    def _pages_with_words(self) -> None:
        artist = next(member.username for member in self.demo.members if "artist" in member.roles)
        for one in self.demo.pages:
            facing = one.shares_picture_with
            if facing is not None and facing < one.number:
                self.pages[one.number] = page = self.pages[facing]
                self.pages[facing] = self.pages[one.number] = change_page(
                    seat=self.editor, page=page, expected_version=None, happens=f"{page.happens} {one.words}"
                )
                continue
            page = add_page(
                seat=self.editor, number=one.number, is_spread=facing is not None, drawn_by=artist, happens=one.words
            )
            self.pages[one.number] = page
            for panel in one.panels:
                add_panel(seat=self.editor, page=page, happens=panel.happens, said="\n".join(panel.lines))

    def _cut(self, picture: DemoPicture) -> None:
        self.say(f"{picture.file}: cut into pages")
        seat = self.seats[picture.uploader]
        with self.picture(picture.file).open("rb") as file:
            sheet = receive_sheet(seat=seat, file=file, file_name=picture.file)
        self.finish_work()
        cuts = [
            {"polygon": cut["polygon"], "page": self.pages[number].pk}
            for cut, number in zip(picture.cuts, picture.pages, strict=True)
        ]
        cut_sheet(seat=seat, sheet=Sheet.objects.get(pk=sheet.pk), cuts=cuts)
        self.finish_work()

    def _upload(self, picture: DemoPicture) -> None:
        self.say(f"{picture.file}: measured")
        page = self._page(picture.pages[0])
        self._reach(page, picture.stage or "thumbnail")
        with self.picture(picture.file).open("rb") as file:
            receive_revision(
                seat=self.seats[picture.uploader], page=page, file=file, stage=picture.stage or "thumbnail", file_name=picture.file,
                alternate=picture.alternate, minutes_spent=picture.minutes_spent,
            )
        self.finish_work()
        if picture.file in MARKED:
            revision = Revision.objects.select_related("page__board").filter(page=page, file_name=picture.file).latest("pk")
            mark_drawn_figures(self.seats[picture.uploader], self.cast, self.picture(picture.file), revision)
            self.finish_work()

    def _page(self, number: int) -> Page:
        return Page.objects.select_related("board").get(pk=self.pages[number].pk)

    def _reach(self, page: Page, stage: str) -> None:
        """Handed in and signed off until the page is at this stage."""
        while STAGES.index(page.stage) < STAGES.index(stage):
            page = self._hand_in(page)
            page = move_page(seat=self.editor, page=page, move="sign-off", expected_version=None)

    def _hand_in(self, page: Page) -> Page:
        artist = next(seat for seat in self.seats.values() if "artist" in seat.roles)
        return move_page(seat=artist, page=page, move="hand-in", expected_version=None)

    def _write_notes(self, picture: DemoPicture) -> None:
        revision = Revision.objects.filter(page=self.pages[picture.pages[0]], file_name=picture.file).latest("pk")
        for one in self.demo.notes:
            if one.file == picture.file:
                self._write_note(one, revision)

    def _write_note(self, one: DemoNote, revision: Revision) -> None:
        seat = self.seats[one.author]
        note = pin_note(
            seat=seat, page=self._page(one.page), body=one.body, tone=one.tone, region=one.region, revision=revision,
            is_held=one.state == "held",
        )
        for reply in one.replies:
            reply_to_note(seat=self.seats[reply.author], note=note, body=reply.body)
        if one.state in ("answered", "settled", "stet"):
            by = self.editor if one.state != "answered" else next(seat for seat in self.seats.values() if "artist" in seat.roles)
            set_note_state(seat=by, note=note, state=one.state, expected_version=None)

    def _tie(self, picture: DemoPicture) -> None:
        number = picture.pages[0]
        seat = self.seats[picture.uploader]
        with self.picture(picture.file).open("rb") as file:
            still = add_reference(seat=seat, file=file, title=f"Page {number}, panel {picture.panel}: the set")
        panel = self._panel(number, picture.panel or 0)
        if panel is not None:
            panel = tie_still(seat=seat, panel=panel, still=still, expected_version=None)
            if picture.file == PLACED:
                self._place(seat, panel)

    def _place(self, seat: Seat, panel: Panel) -> None:
        """The demo's stills show just what their panels frame."""
        self.finish_work()
        panel = Panel.objects.select_related("page__board").get(pk=panel.pk)
        left, top, right, bottom = bounds(panel.shapes.order_by("-revision__number")[0].polygon)
        in_still = [[0.2, 0.25], [0.8, 0.75]]
        on_page = [[left + x * (right - left), top + y * (bottom - top)] for x, y in in_still]
        place_still(seat=seat, panel=panel, points={"in_still": in_still, "on_page": on_page}, expected_version=None)

    def _panel(self, page: int, order: int) -> Panel | None:
        return Panel.objects.select_related("page__board").filter(page=self.pages[page], order=order, is_gone=False).first()

    def _declare_same_as(self) -> None:
        artist = next(seat for seat in self.seats.values() if "artist" in seat.roles)
        for page in self.demo.pages:
            for one in page.panels:
                panel, model = self._panel(page.number, one.order), one.same_as and self._panel(*one.same_as)
                if panel is not None and model:
                    declare_same_as(seat=artist, panel=panel, model=model, expected_version=None)

    def _reach_last_stages(self) -> None:
        """Page 2 waits for the editor, so that there is something to sign off."""
        for one in self.demo.pages:
            self._reach(self._page(one.number), one.stage)
        self._hand_in(self._page(2))
