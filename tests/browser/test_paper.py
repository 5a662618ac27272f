"""What is taken along: the pages themselves, the review sheet made by the worker, the to-do list, and how a note was measured."""

from zipfile import ZipFile

import pypdfium2
from playwright.sync_api import expect


def test_an_editor_takes_the_board_along_on_paper(arrive, screens):
    visitor = arrive("oriel")
    page = visitor.page
    visitor.wall()
    page.get_by_role("button", name="Take along").click()
    with page.expect_download() as zipped:
        page.get_by_role("link", name="All pages as they stand").click()
    assert zipped.value.suggested_filename == "high-water-at-sallow-mill.zip"
    archive = ZipFile(zipped.value.path())
    assert archive.testzip() is None and archive.namelist()[:3] == ["comic.json", "script.txt", "page-001-final.png"]
    page.get_by_role("button", name="Make the PDF").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="Save the PDF").click()
    document = pypdfium2.PdfDocument(download.value.path())
    for number, sheet in enumerate(document, 1):
        sheet.render(scale=1.4).to_pil().save(screens / f"review-sheet-{number}.png")
    pages = visitor.read("/boards/1/pages")
    words = [sheet.get_textpage().get_text_range() for sheet in document]
    assert "High Water at Sallow Mill" in words[0] and all(
        any(text.startswith(f"Page {'-'.join(map(str, one['numbers']))}") for text in words) for one in pages)
    page.get_by_role("link", name="By page and panel").click()
    boxes = page.locator(".to-do-box").first
    expect(boxes).to_be_hidden()
    page.emulate_media(media="print")
    expect(boxes).to_be_visible()
    page.emulate_media(media="null")
    page.get_by_label("must").uncheck()
    page.get_by_role("button", name="Show these").click()
    page.get_by_role("link", name="Show it").first.click()
    visitor.notes_stand()
    expect(page.locator(".note-open")).to_have_count(1)
    with page.expect_popup() as opened:
        page.get_by_role("link", name="How is this measured?").click()
    assert "how is this measured?" in opened.value.title()
