"""Which drawings stand at a step, and which above a section: each once."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes

from putback.sheet import sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.drawn import drawings_above, drawings_at
from putback.sphinxext.drawn.placed import OnPage
from putback.words import catalogue
from tests.sheet.test_shipped import shipped


def drawn(guide: str, job: str) -> Iterator[tuple[str, nodes.Node]]:
    """Yield the drawings of a job, each with the number of its step or section."""
    opened = shipped(guide)
    sheet = sheet_of(opened.guide.jobs[job], opened)
    assert sheet is not None
    page = OnPage(opened.guide.jobs[job], sheet, opened, catalogue(opened))
    for number, section in enumerate(sheet.sections):
        yield from ((f"section {number}", node) for node in drawings_above(page, number))
        for line in section.walk():
            yield from ((line.number, node) for node in drawings_at(page, line))


def alts(guide: str, job: str, words: str) -> list[tuple[str, str]]:
    """Return what drawings show, of those that have some words, each with its number."""
    found = [(number, str(node.get("alt", ""))) for number, node in drawn(guide, job) if isinstance(node, own.drawing)]
    return [(number, alt.replace("\xa0", " ")) for number, alt in found if words in alt]


def test_a_scale_stands_at_each_reading_with_a_limit_and_once_for_the_same() -> None:
    assert [alt for _, alt in alts("hollin-20", "water-pump", "Scale")] == [
        "Scale of the reading. Good: no more than 0.3 mm (0.012 in)."
    ] * 2
    belt = alts("tarrick-d2", "alternator-belt", "Scale")
    assert len(belt) == len({alt for _, alt in belt})


def test_the_way_in_stands_once_above_the_section_that_takes_apart() -> None:
    ((where, alt),) = alts("ambry-g5", "recoil-starter", "What comes off")
    assert where == "section 3"
    assert alt == (
        "What comes off before the recoil spring. 2 handle bolts, 13 mm hex (only with wheels); folding handle "
        "(only with wheels). 3 recoil-starter bolts, 10 mm hex; recoil starter: after the folding handle. Starter "
        "grip. Centre screw, 10 mm hex; drive plate; pair of pawls; reel: after the recoil starter and the starter "
        "grip."
    )
