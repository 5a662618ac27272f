"""What is taken along: the pages themselves, the review sheet made by the worker, the to-do list, and how a note was measured."""

from zipfile import ZipFile

import pypdfium2
from playwright.sync_api import expect

WHERE_ITS_FULL_STOP_STANDS = """(element) => {
  element.textContent = "\u05e9\u05dc\u05d5\u05dd.";
  const [first, last] = [0, 4].map((at) => {
    const letter = document.createRange();
    letter.setStart(element.firstChild, at);
    letter.setEnd(element.firstChild, at + 1);
    return letter.getBoundingClientRect().left;
  });
  return last < first ? "left" : "right";
}"""


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
    on_paper = pypdfium2.PdfDocument(page.pdf(format="Letter"))  # so wide that a panel's number stands beside its notes
    assert "Page 1" in on_paper[0].get_textpage().get_text_range()
    assert page.locator(".to-do-words").first.evaluate(WHERE_ITS_FULL_STOP_STANDS) == "left"
    page.emulate_media(media="null")
    page.get_by_label("must").uncheck()
    page.get_by_role("button", name="Show these").click()
    page.get_by_role("link", name="Show it").first.click()
    visitor.notes_stand()
    expect(page.locator(".note-open")).to_have_count(1)
    with page.expect_popup() as opened:
        page.get_by_role("link", name="How is this measured?").click()
    assert "how is this measured?" in opened.value.title()
