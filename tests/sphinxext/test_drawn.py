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
    above = drawings_above(page)
    for number, section in enumerate(sheet.sections):
        if number in above:
            yield f"section {number}", above[number]
        for line in section.walk():
            yield from ((line.number, node) for node in drawings_at(page, line))


def alts(guide: str, job: str, words: str) -> list[tuple[str, str]]:
    """Return what drawings show, of those that have some words, each with its number."""
    found = [(number, str(node.get("alt", ""))) for number, node in drawn(guide, job) if isinstance(node, own.drawing)]
    return [(number, alt.replace("\xa0", " ")) for number, alt in found if words in alt]


def test_a_scale_stands_at_each_reading_with_a_limit_and_once_for_the_same() -> None:
    assert [alt for _, alt in alts("hollin-20", "water-pump", "Scale")] == [
        f"Scale of the reading: depth of the deepest groove of the pump {part}. Good: no more than 0.3 mm (0.012 in)."
        for part in ("plate", "liner")
    ]
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


def test_a_level_stands_at_the_first_step_that_fills_or_checks_it() -> None:
    assert alts("hollin-20", "gear-oil", "Level") == [
        ("12", "Level of the gear oil: at the lower edge of the hole."),
        ("25", "Level of the engine oil: between the two marks of the dipstick."),
    ]


def test_a_control_stands_at_the_first_step_that_sets_it_in_any_case() -> None:
    found = alts("tarrick-d2", "fuel-filter", "Positions")
    assert found[0] == (
        "4",
        "Positions of the fuel tap: open and closed. Set: closed. Its handle lies across the pipe.",
    )
    assert [number for number, _ in found if not number.isdigit()] == []
    assert [alt.partition(":")[0].removeprefix("Positions of the ") for _, alt in found] == [
        "fuel tap", "gear lever", "stop lever",
    ]  # fmt: skip
