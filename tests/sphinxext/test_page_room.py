"""Pages are filled: what is high shrinks or is parted, what repeats goes, and nothing small has a page of its own."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from docutils import nodes

from putback.sheet import sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.bench.page import BenchPage
from putback.sphinxext.drawn import drawings_above, sizes, stacks
from putback.sphinxext.drawn.placed import OnPage
from putback.sphinxext.drawn.stacks import stack_drawing, stacks_by_step
from putback.words import catalogue
from tests.printed import overlaps, words_of
from tests.sheet.test_shipped import shipped

from .conftest import Build, panel, para, section, step, steps, table

HIGH = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="82mm" height="{0}mm" viewBox="0 0 82 {0}">'
    '<rect width="80" height="{0}"/></svg>'
)
"""A piece of a drawing."""


def _apart(high: float) -> list[nodes.Node]:
    """Return a step with a drawing in two pieces, each so many millimetres high."""
    piece = HIGH.format(high)
    drawing = own.drawing("", para("Parts-in-order."), svg=piece, alt="parts", more=[(piece, "more parts")])
    return [section("Take apart", steps(step("1", "Remove-the-housing.", drawing), step("2", "Remove-it.")))]


@pytest.mark.parametrize("settings", [{}, {"putback_large_print": True}, {"putback_form": "sheet"}])
def test_a_drawing_in_two_high_pieces_stays_on_its_pages(manual: Build, settings: dict[str, object]) -> None:
    book = manual({"index.rst": "Job\n===\n\n.. made:: job\n"}, {"job": lambda: _apart(110)}, **settings)
    assert (book.status, book.warnings) == (0, "")
    assert overlaps(book.pdf) == []
    (caption,) = (at for page in words_of(book.pdf) for word, at in page if word == "Parts-in-order.")
    assert caption.bottom < (297 - 16) / 25.4 * 72


def test_two_pieces_of_a_drawing_stand_beside_each_other(manual: Build) -> None:
    book = manual({"index.rst": "Job\n===\n\n.. made:: job\n"}, {"job": lambda: _apart(88)})
    step_at, caption = book.place("Remove-the-housing."), book.place("Parts-in-order.")
    assert 60 < (caption.top - step_at.bottom) / 72 * 25.4 < 92


def test_messages_that_are_listed_begin_below_their_heading(manual: Build) -> None:
    lines = [
        f"Keep away from part {at} of it, and from all that turns with it, until it has come to rest."
        for at in range(5)
    ]

    def made() -> list[nodes.Node]:
        listed = [panel("warning", f"It moves {at}.", "It pinches.", *lines) for at in range(4)]
        return [section("Before", *(para("Words of the page. " * 60) for _ in range(2)), section("All", *listed))]

    book = manual({"index.rst": "Guide\n=====\n\n.. made:: page\n"}, {"page": made})
    (page,) = (page for page in book.pages if "Before" in page and "Words of the page." in page)
    assert "It moves 0." in page
    assert "It moves 3." not in page


def test_large_print_tells_of_a_row_only_what_there_is(manual: Build) -> None:
    heads = ["Part", "Manufacturersnumber", "Kit", "Interchangeable", "Renewedwhenever"]
    rows = [[f"part{at}", f"HN-110{at}", "–", "–", "every time " * 9] for at in range(3)]
    book = manual(
        {"index.rst": "Guide\n=====\n\n.. made:: page\n"},
        {"page": lambda: [section("Parts", table(heads, rows))]},
        putback_large_print=True,
    )
    assert book.text.count("Manufacturersnumber HN-110") == 3
    assert ("Interchangeable" in book.text, "Kit" in book.text) == (False, False)


def test_the_machine_numbers_its_stacks_as_the_job_that_takes_them_apart() -> None:
    opened = shipped("hollin-20")
    machine, words = opened.guide.machine, catalogue(opened)
    sheet = sheet_of(opened.guide.jobs["water-pump"], opened)
    assert machine is not None
    assert sheet is not None
    shown = {node["svg"] for part in stacks.of_machine(machine, words, [sheet]) for node in part.findall(own.drawing)}
    in_job = [stack for found in stacks_by_step(sheet, machine, words).values() for stack in found]
    assert in_job
    for stack in in_job:
        assert stack_drawing(stack, words)["svg"] in shown
    assert stack_drawing(in_job[0], words)["svg"] not in {
        node["svg"] for part in stacks.of_machine(machine, words, []) for node in part.findall(own.drawing)
    }


@pytest.mark.parametrize(
    ("guide", "job", "drawn"),
    [
        ("hollin-20", "water-pump", True),
        ("ambry-g5", "head-gasket", True),
        ("ambry-g5", "recoil-starter", False),
        ("tarrick-d2", "exchanger", False),
    ],
)
def test_no_way_in_is_drawn_where_a_stack_shows_it(guide: str, job: str, drawn: bool) -> None:
    opened = shipped(guide)
    sheet, words = sheet_of(opened.guide.jobs[job], opened), catalogue(opened)
    assert sheet is not None
    page = OnPage(
        opened.guide.jobs[job], sheet, opened, words, stacks=stacks_by_step(sheet, opened.guide.machine, words)
    )
    assert bool(drawings_above(page)) == drawn
    assert drawings_above(OnPage(page.job, sheet, opened, words))


@pytest.mark.parametrize("guide", ["hollin-20", "tarrick-d2", "ambry-g5", "sessel-w15"])
def test_two_drawings_of_bolts_find_room_on_a_page(guide: str) -> None:
    opened = shipped(guide)
    assert opened.guide.machine is not None
    drawings = list(sizes.of_machine(opened.guide.machine, catalogue(opened)))
    highs = [float(ElementTree.fromstring(node["svg"]).attrib["height"].removesuffix("mm")) for node in drawings]
    assert len(highs) > 1
    assert max(highs) < 100
    # What is of the same size is drawn once: no two rows say the same.
    facts = [text for node in drawings for text in ElementTree.fromstring(node["svg"]).itertext() if " × M" in text]
    assert len({text.partition("M")[2] for text in facts}) == len(facts)


def test_a_few_later_steps_stand_with_the_records_of_a_sheet() -> None:
    opened = shipped("hollin-20")
    job = opened.guide.jobs["water-pump"]
    sheet = sheet_of(job, opened)
    assert sheet is not None
    page = BenchPage(job, sheet, opened, None).doctree()  # type: ignore[arg-type]
    (wide,) = page.findall(own.wide)
    titles = [part.next_node(nodes.title) for part in wide.children if isinstance(part, nodes.section)]
    said = [title.astext() for title in titles if title is not None]
    assert said.index("Follow-up") == said.index("Count back") + 1 == said.index("Sign-off") - 1
