"""Which panels a page has, and in which order: those of the picture that it is shown by."""

from collections.abc import Collection, Iterable

from board.actions.measuring import measure_page_again
from board.actions.named_panels import name_panels_anew
from board.models import Page, Panel, PanelShape
from board.models.revision import ready_revision


def page_stands_as(*, page: Page, shapes: Iterable[PanelShape], stood: Collection[int] = ()) -> None:
    """`stood`: on this picture until now. Of what is drawn nowhere else the words wait for a drawing; without any it is gone."""
    order_of = {shape.panel_id: shape.order for shape in shapes}
    for panel in Panel.objects.filter(page=page):
        is_mistake = panel.pk in stood and not (panel.happens or panel.said)
        is_gone = panel.pk not in order_of and (panel.is_gone or is_mistake or panel.shapes.exists())
        order = order_of.get(panel.pk, panel.order)
        if (is_gone, order) != (panel.is_gone, panel.order):
            Panel.objects.filter(pk=panel.pk).update(is_gone=is_gone, order=order)
    name_panels_anew(board=page.board)


def page_is_shown_anew(*, page: Page) -> None:
    """By another picture than before, perhaps. Its panels are known already, and stay as they are where people corrected them; what
    is told of it is looked for again."""
    shown = ready_revision(page)
    if shown and (shapes := PanelShape.objects.filter(revision=shown)):
        page_stands_as(page=page, shapes=shapes)
    measure_page_again(page=page, afresh=True)
