"""Pairs of units as manuals print them: good ones are not called wrong, and slips are found as often as was measured.

Each file under pairs/ names its sources. What is measured: `python -m tests.published.printed_pairs`.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from putback.checks.units_disagree import in_words
from putback.prose.pages import Passage, Stretch
from putback.prose.pairs import pairs
from putback.prose.statements import torques
from putback.units import Kind
from tests.published.printed_pairs import FOLDER, Printed, Slip, read_all, report, slips

PAGE = (Path(__file__).parents[2] / "docs" / "why" / "numbers.md").read_text(encoding="utf-8")
PRINTED = read_all()

CALLED_WRONG = {"54–61 ft-lb (7.8–8.5 m·kg)", "15–23 ft-lb (2.2–3.2 m·kg)"}
"""Good pairs that are called wrong; docs/why/numbers.md has more of them."""

FLOORS = {
    "decimal point to the right (× 10)": 1.0,
    "decimal point to the left (÷ 10)": 1.0,
    "decimal point of one end only": 0.99,
    "first two digits swapped": 0.99,
    "last two digits swapped": 0.70,
    "first digit one more": 0.92,
    "another unit behind the number": 0.98,
    "factor the wrong way round": 0.99,
    "the 32 of °F forgotten": 1.0,
    "cut off, and so off by 3.5 % or more": 0.54,
}
"""Shares that were found, of all pairs, at the least. Measured 2026-11-26, rounded down."""


@pytest.fixture(scope="module")
def seeded() -> list[Slip]:
    return list(slips(PRINTED))


def test_there_are_many_pairs_of_many_kinds() -> None:
    assert len(PRINTED) >= 400
    assert sum(pair.later for pair in PRINTED) >= 90
    assert len({pair.source for pair in PRINTED}) >= 50
    assert len({pair.kind for pair in PRINTED}) >= 10


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.yaml")), ids=lambda path: path.stem)
def test_a_file_says_how_its_pairs_were_seen(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert "Status of all: read" in text
    assert "://" not in text


def test_good_pairs_are_not_called_wrong() -> None:
    assert {pair.text for pair in PRINTED if pair.found and not pair.wrong} == CALLED_WRONG


def test_what_is_wrong_in_print_is_found() -> None:
    assert [str(pair) for pair in PRINTED if pair.wrong and not pair.found] == []


def test_slips_are_found_as_often_as_measured(seeded: list[Slip]) -> None:
    tried = Counter(slip.kind for slip in seeded)
    found = Counter(slip.kind for slip in seeded if slip.found)
    assert tried.keys() == FLOORS.keys()
    assert {kind: found[kind] / tried[kind] for kind in tried if found[kind] / tried[kind] < FLOORS[kind]} == {}


def test_the_page_has_what_is_measured() -> None:
    assert report(PRINTED) in PAGE
    assert all(pair in PAGE for pair in CALLED_WRONG)


def sentences(pair: Printed) -> list[str]:
    """Return a pair in a sentence, in brackets and, where there are two units, behind a slash."""
    inside = pair.text.replace("[", "(").replace("]", ")")
    plain = [f"Set it to {inside}, and go on."]
    return plain if inside.count(", ") else [*plain, f"Set it to {inside.replace(' (', ' / ', 1).removesuffix(')')}."]


@pytest.mark.parametrize("pair", PRINTED, ids=lambda pair: pair.text)
def test_it_is_read_and_judged_alike_in_a_sentence(pair: Printed) -> None:
    for sentence in sentences(pair):
        said = [*(one.quantity for one in pairs(sentence)), *(one.quantity for one in torques(sentence))]
        assert any(quantity.also for quantity in said), sentence
        found = list(in_words(Passage("a.md", sentence, (Stretch(0, 1, 1),))))
        if pair.kind is not Kind.DIFFERENCE:  # which no sentence says here
            assert bool(found) is pair.found, sentence
