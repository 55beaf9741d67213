"""How one finds the way in the book: tabs, two sides, large print, its variants; how columns share the room."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from docutils import nodes

from putback.sphinxext.naming import paper_name, paper_settings
from putback.typstpdf.shares import GUTTER, ROOM, best_shares
from tests.printed import layout_faults, sheets_of, words_of

from .conftest import Build, bullets, panel, section, setup_block, step, steps, table

JOBS = ("one", "two", "three")
FILES = {name: f"{name}.rst" for name in JOBS}


def _job() -> Sequence[nodes.Node]:
    row = ["Cover screw", "M6", "9 N·m", "dry", "Two lengths."]
    wide = table(["Piece", "Size", "Torque", "Threads", "Remarks"], [row] * 3)
    danger = panel("danger", "It turns.", "It cuts.", *(f"Keep the hand {at} away." for at in range(5)))
    return [
        setup_block({"Purpose": "Stop a leak."}, bullets("a spanner", "a rag")),
        section("Take off", steps(danger, step("1", "Remove the cover."), step("2", "Remove the seal."))),
        section("Count back", wide),
    ]


def _files() -> dict[str, str | bytes]:
    made: dict[str, str | bytes] = {FILES[name]: f"Job {name}\n==========\n\n.. made:: job\n" for name in JOBS}
    made["index.rst"] = "Guide\n=====\n\nWords.\n\n.. toctree::\n\n" + "".join(f"   {name}\n" for name in JOBS)
    return made


def test_each_chapter_and_job_has_a_tab_below_the_one_before(manual: Build) -> None:
    sheets = sheets_of(manual(_files(), {"job": _job}).pdf)[2:]
    tabs = [(word, at.top) for sheet in sheets for word, at in sheet.words if sheet.is_tab(at)]
    assert [word for word, _ in tabs] == ["1", "2", "3", "4"]
    assert [top for _, top in tabs] == sorted({top for _, top in tabs})


def test_on_both_sides_a_job_begins_at_the_right(manual: Build) -> None:
    book = manual(_files(), {"job": _job}, putback_sided=True)
    assert (book.status, book.warnings) == (0, "")
    assert [number for number, page in enumerate(book.pages, 1) if "Stop a leak." in page] == [5, 7, 9]
    sheets = sheets_of(book.pdf, sided=True)
    assert [number for number, sheet in enumerate(sheets, 1) if sheet.for_notes and len(sheet.body) == 1] == [4, 6, 8]
    assert [fault for fault in layout_faults(book.pdf, sided=True) if "margin" in fault] == []
    # The number of the page and the tab are at the outer edge.
    assert [word for word, at in sheets[4].words if sheets[4].is_tab(at)] == ["2"]


def test_large_print_has_no_small_word(manual: Build) -> None:
    book = manual(_files(), {"job": _job}, putback_large_print=True)
    assert (book.status, book.warnings) == (0, "")
    words = [word for page in words_of(book.pdf) for word in page]
    assert [(word, at) for word, at in words if at.bottom - at.top < 15.9] == []
    assert [fault for fault in layout_faults(book.pdf) if "margin" in fault or "run into" in fault] == []


def test_the_variants_of_a_book_stand_on_its_cover_and_on_each_page(manual: Build) -> None:
    cover, *pages = manual(_files(), {"job": _job}, putback_only="Only with a long shaft").pages
    assert "Only with a long shaft This book leaves out what other variants need." in cover
    assert all("Only with a long shaft" in page[:80] for page in pages)


@pytest.mark.parametrize("sided", [False, True])
@pytest.mark.parametrize("large", [False, True])
def test_the_name_of_a_paper_says_how_it_is_printed(sided: bool, large: bool) -> None:
    found = paper_settings(paper_name("letter", sided=sided, large=large))
    assert found == {"putback_paper": "letter", "putback_sided": sided, "putback_large_print": large}


def test_the_column_with_the_most_to_say_gets_the_most_room() -> None:
    rows = [[[12], [6], [300]], [[20], [6], [40]], [[12], [6], [500]]]
    name, number, remarks = best_shares([8, 6, 9], rows)
    assert (number, name < 25, remarks > 60) == (6, True, True)
    assert name + number + remarks <= ROOM - 2 * GUTTER
    # What all stands on one line gets what it needs, and no column is narrower than its longest word.
    assert best_shares([4, 4], [[[10], [20]]]) == [10, 20]
    assert best_shares([70, 60], [[[70], [60, 60]]]) == [70, 60]
