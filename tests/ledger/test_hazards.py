"""What can hurt at an entry, and which cautions are in force there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import Book
from putback.ledger.hazards import brought_about, caution_at, exposures, hazards_at
from putback.model.library import Hazard
from putback.model.machine import Part
from putback.model.terms import Need, Ref, Signal
from putback.source.span import top_of
from tests.ledger.trial import book_of, machine_of


def hazards(steps: str) -> list[tuple[str, str | None]]:
    book = book_of(steps)
    return [(risk.hazard.key, risk.source) for risk in hazards_at(book, book.entries[-1])]


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("  - run: engine\n", [("running", None)]),
        ("  - remove: impeller\n", [("sharp", "impeller")]),
        ("  - inspect: impeller\n", []),
        ("  - apply: grease\n    to: cover\n", [("messy", "grease")]),
        ("  - apply: grease\n    to: impeller\n", [("sharp", "impeller"), ("messy", "grease")]),
        ("  - clean: cover\n    with: grease\n", [("messy", "grease")]),
        ("  - clean: the floor\n", []),
        ("  - tighten: plug\n", [("oily", "plug")]),
        ("  - loosen: plug\n", []),
        ("  - remove: screws\n", []),
        ("  - wait: 5 min\n", []),
    ],
)
def test_hazards_come_from_verbs_and_tags(steps: str, expected: list[tuple[str, str | None]]) -> None:
    assert hazards(steps) == expected


def test_a_control_keeps_a_hazard_away() -> None:
    assert hazards("  - fill: coolant\n") == []
    assert hazards("  - set: selector\n    to: forward\n  - fill: coolant\n") == [("hot", "coolant")]


def test_a_control_keeps_a_hazard_away_only_where_it_was_set() -> None:
    book = book_of("  - set: selector\n    to: forward\n    when: {drive: gear}\n  - fill: coolant\n")
    [risk] = hazards_at(book, book.entries[1])
    assert risk.variants == book.graph.space.chosen("drive", ["gear"])


def thrown(*verbs: str) -> Hazard:
    """Return what can hurt only while the selector is in forward."""
    where = top_of("hazards.yaml")
    while_ = (Need(Ref("selector", where), Ref("forward", where)),)
    return Hazard(
        key="thrown", span=where, name="thrown", signal_at_least=Signal.WARNING, verbs=verbs, tags=(), ppe=(),
        safe_when=(), while_=while_,
    )  # fmt: skip


FORWARD = "  - set: selector\n    to: forward\n"


def meets(book: Book, hazard: Hazard) -> bool:
    return bool(list(hazards_at(book, book.entries[-1], [hazard])))


@pytest.mark.parametrize(
    ("verbs", "step", "threatens"),
    [
        (["fill"], "  - fill: coolant\n", True),
        (["fill"], "  - inspect: cover\n", False),
        ([], "  - remove: screws\n", True),
        ([], "  - wait: 5 min\n", False),
        ([], "  - act: Wipe the floor.\n", False),
        ([], "  - act: Shake it.\n    on: cover\n", True),
    ],
)
def test_a_state_is_a_hazard_only_while_it_is_so(verbs: list[str], step: str, threatens: bool) -> None:
    """Of the steps with its verbs; without verbs, of all that reach into the machine."""
    assert not meets(book_of(step), thrown(*verbs))
    assert meets(book_of(FORWARD + step), thrown(*verbs)) is threatens
    assert not meets(book_of(f"{FORWARD}  - set: selector\n    to: neutral\n{step}"), thrown(*verbs))


def test_what_no_verb_tag_mass_or_state_brings_about_threatens_nobody() -> None:
    assert not meets(book_of(f"{FORWARD}  - remove: screws\n"), replace(thrown(), while_=()))


def test_a_state_is_a_hazard_only_in_the_variants_in_which_it_is_so() -> None:
    book = book_of(f"{FORWARD}    when: {{drive: gear}}\n  - fill: coolant\n")
    [risk] = hazards_at(book, book.entries[-1], [thrown("fill")])
    assert risk.variants == book.graph.space.chosen("drive", ["gear"])


def test_a_step_brings_a_state_about_and_others_only_meet_it() -> None:
    book = book_of(f"{FORWARD}  - fill: coolant\n")
    assert [brought_about(book, entry, thrown()) for entry in book.entries] == [True, False]


MASSES = """
machine: Trial pump
options: {drive: [belt, gear]}
parts:
  pump: {mass: 18 kg}
  wheel: {mass: 2 kg}
  plate: {mass: 20 kg}
  cover: {mass: 19.9 kg}
fasteners:
  nut: {secures: wheel, to: pump}
"""


@pytest.mark.parametrize(
    ("verbs", "step", "threatens"),
    [
        ([], "  - remove: plate\n", True),
        ([], "  - remove: cover\n", False),
        ([], "  - remove: pump\n", True),
        ([], "  - remove: wheel\n  - remove: pump\n", False),
        ([], "  - inspect: plate\n", False),
        ([], "  - lift: plate\n", True),
        (["lift"], "  - remove: plate\n", False),
        (["lift"], "  - lift: plate\n", True),
        (["lift"], "  - lift: cover\n", False),
        (["turn"], "  - turn: plate\n    by: 90°\n", True),
    ],
)
def test_a_mass_is_a_hazard_in_the_hands_of_whoever_carries_it(verbs: list[str], step: str, threatens: bool) -> None:
    """At the verbs of the hazard, or, without verbs, at all that carry."""
    mass = machine_of(MASSES).things["plate"]
    assert isinstance(mass, Part)
    heavy = replace(thrown(*verbs), while_=(), mass=mass.mass)
    assert meets(book_of(step, machine=MASSES), heavy) is threatens


def exposed(steps: str) -> list[tuple[str, int, int | None]]:
    return [
        (exposure.risk.hazard.key, exposure.risk.entry.index, exposure.late and exposure.late.entry.index)
        for exposure in exposures(book_of(steps))
    ]


SECTIONS = """sections:
  - title: One
    steps:
      - caution: running-caution
      - run: engine
  - title: Two
    steps:
      - run: engine
      - run: engine
"""


def test_a_caution_is_in_force_to_the_end_of_its_section() -> None:
    assert exposed(SECTIONS) == [("running", 2, None)]


def test_a_caution_behind_the_risk_is_late() -> None:
    assert exposed("  - run: engine\n  - caution: running-caution\n") == [("running", 0, 1)]


def test_another_caution_does_not_answer() -> None:
    assert exposed("  - caution: sharp-caution\n  - run: engine\n") == [("running", 1, None)]


def test_a_risk_is_told_once_a_section() -> None:
    assert exposed("  - run: engine\n  - run: engine\n") == [("running", 0, None)]


@pytest.mark.parametrize(
    ("above", "expected"),
    [
        ("  - caution: running-caution\n", []),
        ("  - caution: sharp-caution\n", [("running", 2, None), ("running", 7, None)]),
    ],
)
def test_who_goes_back_below_a_caution_has_read_it(above: str, expected: list[tuple[str, int, None]]) -> None:
    """Of the second round as well, the messages above its first step count; those of something else do not."""
    looped = "  - inspect: cover\n    name: look\n  - run: engine\n  - check: leaks\n"
    branch = "    otherwise: [{remove: cover}, {back-to: look}]\n"
    assert exposed(f"{above}{looped}{branch}") == expected


def test_a_caution_in_some_variants_leaves_the_others_exposed() -> None:
    book = book_of("  - caution: running-caution\n    when: {drive: gear}\n  - run: engine\n")
    [exposure] = exposures(book)
    assert exposure.variants == book.graph.space.chosen("drive", ["belt"])
    assert exposure.late is None


def test_a_late_caution_in_other_variants_is_none() -> None:
    steps = "  - run: engine\n    when: {drive: belt}\n  - caution: running-caution\n    when: {drive: gear}\n"
    assert exposed(steps) == [("running", 0, None)]


def test_the_message_of_an_entry() -> None:
    book = book_of("  - caution: [hot-caution, nothing]\n  - note: a\n")
    messages = [caution_at(book, entry) for entry in book.entries]
    assert [message and message.key for message in messages] == ["hot-caution", None, None]
