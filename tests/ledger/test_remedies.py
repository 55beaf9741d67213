"""What a remedy changes, and who asks after it."""

from __future__ import annotations

import pytest

from putback.ledger.remedies import unproved
from tests.ledger.trial import MACHINE, book_of

GAP = "measure: gap under the cover\n    limit: 1 mm .. 2 mm"
QUIET = "check: noise\n    limit: no squeal"
MARK = "check: oil\n    limit: between the marks"


def told(asked: str, branch: str, after: str = "") -> list[str]:
    """Return what a branch changes that nobody asks after: the things named, or the words of an act, as written."""
    steps = f"  - {asked}\n    otherwise: [{branch}]\n{after}"
    text = f"job: Trial\nsteps:\n{steps}"
    return [remedy.span.cut(text) for remedy in unproved(book_of(steps, machine=MACHINE))]


@pytest.mark.parametrize(
    ("asked", "branch", "expected"),
    [
        # What was opened, looked at and closed again is as it was; of what was undone by a turn, only a look tells.
        (QUIET, "{remove: screws}, {install: screws}", ["screws"]),
        (QUIET, "{remove: screws}, {inspect: impeller}, {install: screws}", []),
        (QUIET, "{remove: screws}, {note: It may squeal when new.}, {install: screws}", []),
        (QUIET, "{loosen: screws}, {inspect: cover}, {tighten: screws}", []),
        (QUIET, "{loosen: screws}, {note: It may squeal when new.}, {tighten: screws}", ["screws"]),
        (QUIET, "{inspect: cover}, {loosen: screws}, {tighten: screws}", ["screws"]),
        (QUIET, "{inspect: cover}, {remove: screws}, {install: screws}", ["screws"]),
        (QUIET, "{remove: screws}, {inspect: cover}, {loosen: tensioner-bolt}, {install: screws}", []),
        (QUIET, "{loosen: screws}, {inspect: cover}, {act: Tap it.}, {tighten: screws}", []),
        (QUIET, "{disconnect: hose}, {drain: oil}, {connect: hose}", []),
        (QUIET, "{disconnect: hose}, {connect: hose}", ["hose"]),
        (QUIET, "{remove: gasket}, {inspect: cover}, {install: gasket, new: true}", ["gasket"]),
        # A note or an act changes what was measured, when its words say so.
        (GAP, "{act: Bend the arm.}", ["act"]),
        (GAP, "{note: Turn the star wheel.}", ["note"]),
        (GAP, "{note: Write it down.}", []),
        (QUIET, "{act: Bend the arm.}", []),
        # Who turns an adjuster adjusts; who turns a shaft looks at another side of it, unless something is measured.
        (QUIET, "{turn: tensioner, by: 90°}", ["tensioner"]),
        (QUIET, "{turn: screws, by: 90°}", ["screws"]),
        (QUIET, "{turn: impeller, by: 90°}", []),
        (GAP, "{turn: impeller, by: 90°}", ["impeller"]),
    ],
)
def test_what_a_remedy_changes(asked: str, branch: str, expected: list[str]) -> None:
    assert told(asked, branch) == expected


TIGHT = "check: clamp\n    limit: tight"
CLEAR = "inspect: cover\n    for: damp at the edge"


@pytest.mark.parametrize(
    ("asked", "branch", "expected"),
    [
        # Topped up to its mark, it is good; so much as was said is not, unless the words say it.
        (MARK, "{fill: oil}", []),
        (MARK, "{fill: coolant}", ["coolant"]),
        (MARK, "{fill: oil, volume: 1 l}", ["oil"]),
        (MARK, "{fill: oil, volume: 1 l, note: Between the marks.}", []),
        (MARK, "{fill: oil, volume: 1 l, text: Fill it to the mark.}", []),
        ("measure: level of the oil\n    limit: 1 mm .. 2 mm", "{fill: oil, volume: 1 l}", []),
        ("measure: oil\n    limit: 1 mm .. 2 mm", "{fill: oil}", ["oil"]),
        # What was not tight is tightened.
        (TIGHT, "{tighten: clamp}", []),
        (TIGHT, "{tighten: screws}", ["screws"]),
        (TIGHT, "{connect: hose}", ["hose"]),
        # Dirt is cleaned off: whoever cleans sees that it is clean, and not that it works.
        ("check: cam\n    limit: clean", "{clean: cam}", []),
        ("check: cam\n    limit: clean", "{clean: cover}", ["cover"]),
        ("check: cam\n    limit: no squeal", "{clean: cam}", ["cam"]),
        (CLEAR, "{clean: cover}", []),
        (CLEAR, "{clean: body}", []),
        (CLEAR, "{tighten: screws}", ["screws"]),
        ("inspect: cover\n    for: a crack", "{tighten: screws}", []),
        # What is topped up through is opened and shut.
        (QUIET, "{connect: hose}, {tighten: plug}", ["hose"]),
    ],
)
def test_who_does_it_sees_that_it_is_good(asked: str, branch: str, expected: list[str]) -> None:
    assert told(asked, branch) == expected


@pytest.mark.parametrize(
    ("asked", "branch", "expected"),
    [
        (MARK, "{fill: oil, volume: 1 l}, {act: Look at the oil again.}", []),
        (MARK, "{fill: oil, volume: 1 l}, {note: Check the marks once more.}", []),
        (MARK, "{fill: oil, volume: 1 l}, {act: Look at the coolant again.}", ["oil"]),
        (MARK, "{fill: oil, volume: 1 l}, {act: Look at the oil.}", ["oil"]),
        (MARK, "{act: Look at the oil again.}, {fill: oil, volume: 1 l}", ["oil"]),
        ("measure: oil\n    limit: 1 mm .. 2 mm", "{fill: oil}, {act: Look at the oil again.}", ["oil"]),
    ],
)
def test_words_that_have_somebody_look_again(asked: str, branch: str, expected: list[str]) -> None:
    assert told(asked, branch) == expected


SAME = "  - measure: gap under the cover\n    limit: 1 mm .. 2 mm\n"


@pytest.mark.parametrize(
    ("asked", "branch", "after", "expected"),
    [
        # In the branch, whatever is near it will do; after it, only the same.
        (GAP, "{tighten: screws}, {measure: gap, limit: 1 mm .. 2 mm}", "", []),
        (GAP, "{tighten: screws}, {measure: play, limit: 1 mm .. 2 mm}", "", []),
        (GAP, "{tighten: screws}, {measure: play, limit: 1 bar .. 2 bar}", "", ["screws"]),
        (GAP, "{tighten: screws}, {check: play, limit: none}", "", ["screws"]),
        (GAP, "{tighten: screws}, {check: gap, limit: none}", "", []),
        (GAP, "{tighten: screws}, {inspect: cover}", "", []),
        (GAP, "{tighten: screws}, {inspect: impeller}", "", ["screws"]),
        (GAP, "{measure: gap, limit: 1 mm .. 2 mm}, {tighten: screws}", "", ["screws"]),
        (GAP, "{tighten: screws}", SAME, []),
        (GAP, "{tighten: screws}", SAME.replace(" under the cover", ""), ["screws"]),
        (GAP, "{tighten: screws}", "  - check: gap under the cover\n    limit: even\n", ["screws"]),
        (GAP, "{tighten: screws}", SAME.replace("gap under", "play of"), ["screws"]),
        (GAP, "{tighten: screws}", SAME.replace("gap", "the gap"), []),
        ("measure: cam\n    limit: 1 mm .. 2 mm", "{tighten: screws}", "  - check: cam\n    limit: even\n", ["screws"]),
        ("check: cam\n    limit: even", "{tighten: screws}", "  - measure: cam\n    limit: 1 mm .. 2 mm\n", []),
        (QUIET, "{tighten: screws}, {check: body, limit: no squeal at all}", "", []),
        (QUIET, "{tighten: screws}, {check: body, limit: no drop}", "", ["screws"]),
        (QUIET, "{tighten: screws}, {stop: Buy one.}", "", []),
        (QUIET, "{stop: Buy one.}", "", []),
    ],
)
def test_who_asks_the_same(asked: str, branch: str, after: str, expected: list[str]) -> None:
    assert told(asked, branch, after) == expected


@pytest.mark.parametrize(
    ("asked", "branch", "expected"),
    [
        # A worn part that goes out for a new one is as it was made; what comes of fitting is not.
        ("measure: cam\n    limit: '>= 6.4 mm'", "{replace: cam}", []),
        ("measure: cam\n    limit: 6.4 mm .. 7 mm", "{replace: cam}", ["cam"]),
        ("measure: cam\n    limit: '>= 6.4 mm'", "{replace: cover}", ["cover"]),
        ("measure: cam\n    limit: '>= 6.4 mm'", "{remove: cam}, {install: cam}", []),
        ("check: cam\n    limit: not worn", "{remove: cam}, {install: cam}", ["cam"]),
        ("check: cam\n    limit: not worn", "{remove: cam}, {install: cam, new: true}", []),
        ("measure: cover\n    limit: '<= 6.4 mm'", "{remove: cover}, {install: cover}", ["cover"]),
        ("measure: height of the cam\n    limit: '>= 6.4 mm'", "{replace: cam}", []),
        ("measure: play of the cam\n    limit: '<= 6.4 mm'", "{replace: cam}", ["cam"]),
        ("check: coolant\n    limit: not milky", "{drain: coolant}, {fill: coolant, volume: 1 l}", []),
        ("check: coolant\n    limit: not milky", "{fill: coolant, volume: 1 l}", ["coolant"]),
        ("check: coolant\n    limit: not milky", "{drain: coolant}, {fill: oil, volume: 1 l}", ["oil"]),
    ],
)
def test_a_new_one_proves_itself(asked: str, branch: str, expected: list[str]) -> None:
    assert told(asked, branch) == expected


def test_a_change_in_a_block_is_told_where_the_outermost_is_done() -> None:
    steps = f"  - {GAP}\n    otherwise: [{{do: outer}}]\n"
    text = f"job: Trial\nsteps:\n{steps}"
    blocks = {"outer": "steps: [{do: inner}]\n", "inner": "steps: [{tighten: screws}]\n"}
    assert [remedy.span.cut(text) for remedy in unproved(book_of(steps, blocks))] == ["outer"]
    inside = {"outer": f"steps:\n  - {GAP}\n    otherwise: [{{do: inner}}]\n", "inner": blocks["inner"]}
    [remedy] = unproved(book_of("  - do: outer\n", inside))
    assert remedy.span.cut(f"block: Trial\n{inside['outer']}") == "inner"
    assert remedy.span.path == "blocks/outer.yaml"


def test_only_a_question_in_no_other_branch_can_be_gone_back_to() -> None:
    steps = f"  - {GAP}\n    otherwise: [{{tighten: screws}}]\n"
    assert [remedy.outermost for remedy in unproved(book_of(steps))] == [True]
    inner = "{measure: play, limit: 1 bar .. 2 bar, otherwise: [{tighten: screws}]}"
    nested = f"  - check: noise\n    limit: none\n    otherwise: [{inner}]\n"
    assert [remedy.outermost for remedy in unproved(book_of(nested))] == [False]
