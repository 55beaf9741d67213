"""Every hint obeyed: it removes its finding and brings no new one, in the examples and on seeded faults."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from putback.checks import own_checks
from putback.guide.paths import is_guide
from tests.faults.finding import Trial
from tests.faults.seeding import Fault, seed
from tests.hints.trial import NOT_YET, Outcome, of_example, of_fault
from tests.hints.words import Add, Delete, Edit, Fact, Insert, Move, Place, Write, edits_of

CASES = Path(__file__).parents[1] / "cases"
PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]

EACH = 1
"""Faults of each kind that are tried on each guide; `python -m tests.hints` tries all."""

trial_of = cache(Trial.of)


def told(outcome: Outcome) -> str:
    finding = outcome.finding
    return f"{finding.span}: [{finding.check}] {finding.message}\n    {finding.hint}\n    {outcome.fault}"


@pytest.mark.parametrize("check", own_checks())
def test_obeying_the_hints_of_a_check_does_good(check: str) -> None:
    texts = {"FAILS": own_checks()[check].module.FAILS}
    texts |= {path.stem: path.read_text(encoding="utf-8") for path in sorted((CASES / check).glob("*.txt"))}
    for name, text in texts.items():
        bad = [told(each) for each in of_example(text) if each.fault]
        assert bool(bad) is (f"{check}/{name}" in NOT_YET), f"{check}/{name}\n" + "\n".join(bad)


def test_what_is_not_good_yet_names_cases() -> None:
    assert {name for name in NOT_YET if not (CASES / f"{name}.txt").is_file()} == set()


def sample(folder: Path) -> list[Fault]:
    by_kind: dict[str, list[Fault]] = {}
    for fault in seed(folder):
        by_kind.setdefault(fault.kind, []).append(fault)
    return [fault for faults in by_kind.values() for fault in faults[:: max(1, len(faults) // EACH)][:EACH]]


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_obeying_the_hints_on_a_seeded_fault_does_good(folder: Path) -> None:
    """Nearly always: what one slip breaks in several places is not mended at one of them."""
    counts: Counter[str] = Counter()
    bad: list[str] = []
    for fault in sample(folder):
        for outcome in of_fault(trial_of(folder), fault):
            counts["advice" if outcome.advice else "bad" if outcome.fault else "good"] += 1
            if outcome.fault:
                bad.append(f"{fault.kind}, {fault.path}:{fault.line}: {told(outcome)}")
    assert counts["good"] >= 12
    assert counts["bad"] <= counts["good"] * 0.2, "\n".join(bad)


BEHIND = Place(step=("install", "lid"), line=4)


@pytest.mark.parametrize(
    ("hint", "edits"),
    [
        ("add 'tighten: nuts' after 'install: lid' in line 4", (Insert("tighten", "nuts", BEHIND),)),
        (
            "add 'install: nut' with 'new: true' and 'turn: clockwise' and 'tighten: nut' after it",
            (
                Insert("install", "nut", Place(), (("new", "true"), ("turn", "clockwise"))),
                Insert("tighten", "nut", Place()),
            ),
        ),
        (
            "add 'loosen: nut' before it, and 'tighten: nut' after it",
            (Insert("loosen", "nut", Place(behind=False)), Insert("tighten", "nut", Place())),
        ),
        ("put 'caution: hot' or 'caution: fire' before it", (Insert("caution", "hot", Place(behind=False)),)),
        ("move it before 'remove: [a, b]' in line 7", (Move(Place(behind=False, step=("remove", "a, b"), line=7)),)),
        (
            "move 'reverse: off' in line 3 after the note in line 9 of jobs/a.yaml",
            (Move(Place(line=9, file="jobs/a.yaml"), Place(step=("reverse", "off"), line=3)),),
        ),
        ("add 'measure: gap' with an 'otherwise' after it", (Insert("measure", "gap", Place(), (), otherwise=True),)),
        ("delete it, or give the thing its tag", (Delete(),)),
        ("did you mean '18 mm'?", (Write("18 mm"),)),
        ("write 'adjust: gap', without 'to'", (Write("adjust: gap", "to"),)),
        ("write 'thread: M8 LH' for 'nut' in machine.yaml", (Fact("nut", "thread", "M8 LH"),)),
        ("add 'new: true'", (Add("new", "true"),)),
        ("add 'torque: …', or 'by-hand: …'", None),
        ("was 13 mm meant, or M10?", None),
    ],
)  # fmt: skip
def test_the_words_of_hints(hint: str, edits: tuple[Edit, ...] | None) -> None:
    assert edits_of(hint) == edits
