"""What disturbs a setting, what brings it back, and what a hint says."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.ledger import Book
from putback.ledger.disturbing import words_of
from putback.lint.guides import lint
from putback.model.states import SettingState
from tests.conftest import Write
from tests.ledger.trial import book_of, book_of_block, only

MACHINE = """
machine: Trial engine
options: {link: [rigid, screwed]}
parts: {head: {}, lever: {}, box: {}}
fasteners:
  head-bolts: {count: 4, torque: 24 N·m, secures: head, order: crosswise}
  lock-nuts: {count: 2, positions: [inlet, exhaust], torque: 14 N·m}
  clip: {secures: rod}
lines:
  rod: {kind: linkage, joins: [lever, box]}
settings:
  inlet: {limit: 0.1 mm .. 0.2 mm, disturbed-by: [head, head-bolts], adjusted-by: {lock-nuts: inlet}}
  exhaust: {limit: 0.2 mm .. 0.3 mm, disturbed-by: [head, head-bolts], adjusted-by: {lock-nuts: [exhaust]}}
  reach: {limit: 200 mm .. 202 mm, disturbed-by: rod, when: {link: screwed}}
  timing: {limit: 3 mm .. 4 mm, disturbed-by: inlet}
"""


INLET = "  - loosen: lock-nuts\n    at: inlet\n"


def known(book: Book, name: str) -> bool:
    state = only(book, name)
    assert isinstance(state, SettingState)
    return state.known


@pytest.mark.parametrize(
    ("steps", "unknown"),
    [
        ("  - note: Nothing.\n", set()),
        ("  - remove: clip\n", set()),
        ("  - remove: head\n", {"inlet", "exhaust"}),
        ("  - replace: head\n", {"inlet", "exhaust"}),
        ("  - loosen: head-bolts\n    count: 1\n", {"inlet", "exhaust"}),
        ("  - loosen: lock-nuts\n", {"inlet", "exhaust"}),
        (INLET, {"inlet"}),
        ("  - replace: lock-nuts\n    at: exhaust\n", {"exhaust"}),
        (f"{INLET}  - adjust: inlet\n  - loosen: lock-nuts\n    at: exhaust\n", {"exhaust", "timing"}),
        ("  - loosen: lock-nuts\n  - tighten: lock-nuts\n", {"inlet", "exhaust"}),
        ("  - loosen: lock-nuts\n  - measure: [inlet, exhaust]\n", set()),
        ("  - loosen: lock-nuts\n  - check: [inlet, exhaust]\n", set()),
        ("  - loosen: lock-nuts\n  - inspect: head\n  - measure: head\n", {"inlet", "exhaust"}),
        ("  - adjust: inlet\n", {"timing"}),
        ("  - adjust: timing\n", set()),
        ("  - measure: inlet\n", set()),
    ],
)  # fmt: skip
def test_what_disturbs_a_setting(steps: str, unknown: set[str]) -> None:
    book = book_of(steps, machine=MACHINE)
    assert {name for name in ("inlet", "exhaust", "timing") if not known(book, name)} == unknown


def test_only_variants_that_have_a_setting_lose_it() -> None:
    book = book_of("  - disconnect: rod\n    at: box\n", machine=MACHINE)
    [(variants, state)] = book.closing("reach")
    assert isinstance(state, SettingState)
    assert not state.known
    assert variants == book.graph.space.chosen("link", ["screwed"])


def test_the_first_that_disturbs_it_is_kept_until_it_is_known() -> None:
    steps = "  - remove: head\n  - loosen: lock-nuts\n"
    state = only(book_of(steps, machine=MACHINE), "inlet")
    assert state == SettingState(known=False, off_by=0)
    state = only(book_of(f"{steps}  - adjust: inlet\n  - remove: lock-nuts\n", machine=MACHINE), "inlet")
    assert state == SettingState(known=False, off_by=4 - 1, on_by=2)


def test_a_block_may_find_it_disturbed() -> None:
    text = "begins-with: [inlet]\nsteps:\n  - inspect: head\n"
    assert not known(book_of_block(text, MACHINE), "inlet")
    assert known(book_of_block(f"{text}  - adjust: inlet\n", MACHINE), "inlet")


def test_an_adjustment_has_no_way_back() -> None:
    blocks = {"b": "steps: [{loosen: lock-nuts}, {adjust: inlet}]"}
    book = book_of("  - do: b\n  - reverse: b\n", blocks, MACHINE)
    assert [entry.step.verb.name for entry in book.entries] == ["loosen", "adjust", "tighten"]
    assert not book.stuck


ENGINE = """\
machine: Engine
parts: {head: {}, cover: {}}
fasteners:
  bolts: {count: 4, thread: M8 x 1.25, class: "8.8", drive: hex 13 mm, torque: 24 N·m, secures: head, order: crosswise}
settings:
  gap: {limit: 0.1 mm .. 0.2 mm, disturbed-by: [head, bolts]}
access-after: {gap: [cover]}
"""
APART = "  - remove: cover\n  - remove: bolts\n  - remove: head\n"
OFF = f"{APART}  - install: head\n  - install: bolts\n"
TEST = "  - check: the joint\n    limit: dry\n    otherwise:\n      - stop: Do the job again.\n"
END = f"  - install: cover\n{TEST}"
LOOK = "  - measure: gap\n    otherwise:\n      - stop: Grind the valve.\n"


@pytest.mark.parametrize(
    ("steps", "hint", "mended"),
    [
        (
            f"{OFF}  - tighten: bolts\n{END}",
            "add 'measure: gap' with an 'otherwise' after 'tighten: bolts' in line 8",
            f"{OFF}  - tighten: bolts\n{LOOK}{END}",
        ),
        (
            f"{OFF}{LOOK}  - tighten: bolts\n{END}",
            "move it after 'tighten: bolts' in line 11",
            f"{OFF}  - tighten: bolts\n{LOOK}{END}",
        ),
        (
            f"{OFF}  - adjust: gap\n  - tighten: bolts\n{LOOK}{END}",
            "move it after 'tighten: bolts' in line 9",
            f"{OFF}  - tighten: bolts\n  - adjust: gap\n{LOOK}{END}",
        ),
    ],
)
def test_who_does_what_a_hint_says_has_no_finding(steps: str, hint: str, mended: str, write_guide: Write) -> None:
    job = "job: Head off\nsteps:\n"
    write_guide(
        {
            "engine/guide.yaml": "title: Engine\n",
            "engine/machine.yaml": ENGINE,
            "engine/jobs/head.yaml": f"{job}{steps}",
        }
    )
    assert [finding.hint for finding in lint([Path("engine")]).findings] == [hint]
    write_guide({"engine/jobs/head.yaml": f"{job}{mended}"})
    assert list(lint([Path("engine")]).findings) == []


def test_a_hint_names_the_block_that_puts_it_back(write_guide: Write) -> None:
    write_guide(
        {
            "engine/guide.yaml": "title: Engine\n",
            "engine/machine.yaml": ENGINE,
            "engine/blocks/off.yaml": f"block: Head off\nends-with: [cover, head, bolts]\nsteps:\n{APART}",
            "engine/jobs/head.yaml": f"job: Head off\nsteps:\n  - do: off\n  - reverse: off\n{TEST}",
        }
    )
    [finding] = lint([Path("engine")]).findings
    assert (finding.check, finding.hint) == (
        "left-unadjusted",
        "add 'measure: gap' with an 'otherwise' after 'reverse: off' in line 4",
    )


@pytest.mark.parametrize(
    ("steps", "key", "at", "words"),
    [
        ("  - remove: head\n", "head", (), "off"),
        ("  - disconnect: rod\n", "rod", (), "not connected"),
        ("  - remove: head-bolts\n", "head-bolts", (), "out"),
        ("  - loosen: head-bolts\n", "head-bolts", (), "loose"),
        ("  - remove: head-bolts\n    count: 1\n", "head-bolts", (), "out"),
        ("  - loosen: lock-nuts\n    at: inlet\n", "lock-nuts", (0,), "loose"),
        ("  - remove: lock-nuts\n    at: inlet\n", "lock-nuts", (0,), "out"),
        ("  - remove: lock-nuts\n    at: inlet\n  - loosen: lock-nuts\n    at: exhaust\n", "lock-nuts", (1,), "loose"),
        ("  - remove: lock-nuts\n    at: inlet\n  - loosen: lock-nuts\n    at: exhaust\n", "lock-nuts", (), "out"),
        ("  - adjust: inlet\n", "timing", (), "disturbed"),
    ],
)
def test_what_is_wrong_with_what_is_not_back(steps: str, key: str, at: tuple[int, ...], words: str) -> None:
    book = book_of(steps, machine=MACHINE)
    assert words_of(only(book, key), at) == words
