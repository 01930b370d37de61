"""The book from the app: both papers, a plan that is not finished, stopped halfway."""

from __future__ import annotations

UNFINISHED = """rushlight: 1
subject: {title: A shed, scale: 1:35, invented: yes}
states: [{name: evening}]
parts: [{name: wall, outline_mm: [[0, 0], [120, 0], [120, 60], [0, 60]]}]
lamps:
  - {name: door lamp, colour: warm white, states: evening}
"""


def book_leaf(window, address):
    wide = window(address)
    wide.fresh()
    wide.page.get_by_role("button", name="Book", exact=True).click()
    return wide.page


def test_on_letter_paper_stopped_and_written_again(window, plan, address):
    page = book_leaf(window, address)
    page.get_by_label("Paper").select_option("letter")
    page.get_by_role("button", name="Write the book").click()
    page.get_by_role("button", name="Stop", exact=True).click()
    page.get_by_text("Stopped. An older book").wait_for()
    assert not (plan / "book" / "book-letter.pdf").exists()
    page.get_by_role("button", name="Write the book").click()
    page.get_by_role("link", name="Open the book (PDF)").wait_for()
    assert (plan / "book" / "book-letter.pdf").read_bytes().startswith(b"%PDF")


def test_a_plan_that_is_not_finished_has_its_book_too(window, plan, address):
    (plan / "plan.yaml").write_text(UNFINISHED, encoding="utf-8")
    page = book_leaf(window, address)
    page.get_by_role("button", name="Write the book").click()
    page.get_by_role("link", name="Open the book (PDF)").wait_for()
    assert (plan / "book" / "book-a4.pdf").read_bytes().startswith(b"%PDF")
