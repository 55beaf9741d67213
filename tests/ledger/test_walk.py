"""Entries posted to accounts: what each verb does, in which variants, and by which entry."""

from __future__ import annotations

import pytest

from putback.ledger import open_book
from putback.ledger.book import PROOF, equipment_account, memory_account
from putback.ledger.walk import MOST_CAUSES
from putback.model.build_job import build_job
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    ProofState,
)
from putback.source.load import Mapping, load_text
from putback.variants import NONE
from putback.variants.graph import Graph
from tests.ledger.trial import book_of, book_of_block, library_of, machine_of, only, plain


@pytest.mark.parametrize(
    ("steps", "account", "expected"),
    [
        ("  - remove: cover\n", "cover", PartState(False, 0)),
        ("  - remove: cover\n  - remove: cover\n", "cover", PartState(False, 0)),
        ("  - remove: cover\n  - install: cover\n", "cover", PartState(True, 0, 1)),
        ("  - replace: cover\n", "cover", PartState(True, 0, 0)),
        ("  - remove: screws\n", "screws", GroupState(0, 0, 6, 6, 0)),
        ("  - remove: screws\n  - install: screws\n    count: 5\n", "screws", GroupState(0, 5, 1, 6, 0, 1)),
        ("  - replace: screws\n", "screws", GroupState(0, 6, 0, 6, 0, 0)),
        ("  - replace: pin\n", "pin", GroupState(1, 0, 0, 1, 0, 0)),
        ("  - loosen: screws\n    count: 2\n", "screws", GroupState(4, 2, 0, 0, 0, 0)),
        ("  - loosen: screws\n  - tighten: screws\n    count: 4\n", "screws", GroupState(4, 2, 0, 0, 0, 0)),
        ("  - disconnect: hose\n", "hose", LineState(frozenset({"body", "tail"}), 0)),
        ("  - disconnect: hose\n    at: tail\n", "hose", LineState(frozenset({"tail"}), 0)),
        ("  - disconnect: hose\n  - connect: hose\n    at: tail\n", "hose", LineState(frozenset({"body"}), 0, 1)),
        ("  - drain: coolant\n", "coolant", FluidState(False, 0)),
        ("  - drain: coolant\n  - fill: coolant\n", "coolant", FluidState(True, on_by=1)),
        ("  - set: selector\n    to: forward\n", "selector", ControlState("forward", 0, 0)),
        (
            "  - set: selector\n    to: forward\n  - set: selector\n    to: reverse\n",
            "selector",
            ControlState("reverse", 0, 1),
        ),
        ("  - set: selector\n    to: neutral\n", "selector", ControlState("neutral", -1, 0)),
        ("  - place: stand\n", equipment_account("stand"), EquipmentState(True, -1, 0)),
        ("  - place: stand\n  - take-away: stand\n", equipment_account("stand"), EquipmentState(False, 1, 0)),
        ("  - mark: tensioner\n", memory_account("tensioner"), MarkState(True, False, -1, 0)),
        ("  - measure: tensioner\n", memory_account("tensioner"), MarkState(True, False, -1, 0)),
        ("  - inspect: tensioner\n", memory_account("tensioner"), MarkState()),
        ("  - measure: cam\n", memory_account("cam"), MarkState()),  # its wear, not its position
        ("  - mark: tensioner\n  - remove: tensioner\n", memory_account("tensioner"), MarkState(True, True, 1, 0)),
        ("  - remove: tensioner\n  - mark: tensioner\n", memory_account("tensioner"), MarkState(False, True, 0)),
        ("  - replace: tensioner\n  - align: tensioner\n", memory_account("tensioner"), MarkState()),
    ],
)
def test_what_a_verb_does(steps: str, account: str, expected: object) -> None:
    assert only(book_of(steps), account) == expected


@pytest.mark.parametrize(
    "steps",
    [
        "  - set: selector\n    to: sideways\n",
        "  - remove: hose\n",
        "  - connect: cover\n",
        "  - fill: cover\n",
        "  - set: cover\n    to: forward\n",
        "  - remove: nothing\n",
        "  - place: nothing\n",
        "  - clean: cover\n",
        "  - apply: grease\n    to: cover\n",
        "  - inspect: cover\n",
    ],
)
def test_what_cannot_happen_leaves_its_account_as_it_was(steps: str) -> None:
    book, untouched = book_of(steps), book_of("  - note: Nothing.\n")
    for account in set(untouched.accounts()) - {PROOF}:
        assert book.closing(account) == untouched.closing(account)


def test_a_step_in_some_variants_splits_the_account() -> None:
    book = book_of("  - remove: cover\n    when: {drive: gear}\n")
    space = book.graph.space
    assert {state: variants for variants, state in book.closing("cover")} == {
        PartState(): space.chosen("drive", ["belt"]),
        PartState(False, 0): space.chosen("drive", ["gear"]),
    }


def test_states_that_meet_again_are_one() -> None:
    book = book_of("""  - set: selector
    to: forward
    when: {drive: gear}
  - set: selector
    to: forward
    when: {drive: belt}
  - set: selector
    to: reverse
""")
    assert len(book.closing("selector")) == 2  # by two entries out of rest
    assert {plain(state)["position"] for _, state in book.closing("selector")} == {"reverse"}


@pytest.mark.parametrize(
    ("steps", "fluid", "expected"),
    [
        ("  - remove: drain\n", "coolant", FluidState(False, 0, -1, 0)),
        ("  - remove: drain\n  - drain: coolant\n", "coolant", FluidState(False, 1, -1, 0)),
        ("  - loosen: drain\n", "coolant", FluidState()),
        ("  - set: seacock\n    to: closed\n", "coolant", FluidState(False, 0, -1, 0)),
        ("  - set: seacock\n    to: open\n", "coolant", FluidState()),
        ("  - replace: drain\n", "coolant", FluidState(False, 0, -1, 0)),
        ("  - remove: plug\n  - fill: oil\n  - install: plug\n", "oil", FluidState(True, on_by=1)),
    ],
)
def test_a_fluid_is_out_once_a_drain_is_opened(steps: str, fluid: str, expected: FluidState) -> None:
    assert only(book_of(steps), fluid) == expected


@pytest.mark.parametrize(
    ("steps", "last"),
    [
        ("  - remove: cover\n", ProofState()),
        ("  - install: cover\n", ProofState(proved=False)),
        ("  - install: cover\n  - check: leaks\n", ProofState()),
        ("  - run: engine\n  - tighten: screws\n", ProofState(proved=False)),
        ("  - drain: oil\n  - connect: hose\n  - measure: cover\n  - fill: oil\n", ProofState(proved=False)),
        ("  - connect: hose\n  - measure: cover\n  - fill: oil\n    text: Top it up.\n", ProofState()),
        ("  - install: cover\n  - run: engine\n", ProofState(proved=False, ran=True)),
        ("  - install: cover\n  - run: engine\n  - inspect: cover\n", ProofState()),
        ("  - install: cover\n  - run: engine\n    note: Listen.\n", ProofState()),
        ("  - replace: cover\n  - inspect: cover\n", ProofState(proved=False)),
    ],
)
def test_what_proves_the_work(steps: str, last: ProofState) -> None:
    assert only(book_of(steps), PROOF) == last


def test_a_block_opens_as_it_says() -> None:
    book = book_of_block(
        "begins-with: [cover, screws, hose, coolant, selector, tensioner, stand]\nsteps: [{note: Nothing.}]"
    )
    assert only(book, "cover") == PartState(on=False)
    assert only(book, "screws") == GroupState(0, 0, 6, 6)
    assert only(book, "hose") == LineState(frozenset({"body", "tail"}))
    assert only(book, "coolant") == FluidState(full=False)
    assert only(book, "selector") == ControlState("forward")
    assert only(book, "tensioner") == PartState(on=False)
    assert only(book, memory_account("tensioner")) == MarkState(marked=True, astray=True)
    assert only(book, equipment_account("stand")) == EquipmentState(there=True)


def test_a_follow_up_begins_with_what_a_run_leaves_and_nobody_puts_back() -> None:
    machine = machine_of("""
machine: Trial engine
controls:
  key: {positions: ["off", "on"], normal: "off"}
  warmth: {positions: [cold, hot], normal: cold, any-at-end: true}
parts: {engine: {}}
results-in: {run: {key: "on", warmth: hot, nothing: such}}
""")
    text = "job: Trial\nsteps: [{note: Done.}]\nfollow-ups:\n  - after: 10 h\n    steps: [{inspect: engine}]\n"
    loaded = load_text(text, "jobs/j.yaml")
    assert isinstance(loaded.root, Mapping)
    job, faults = build_job(loaded.root, "jobs/j.yaml")
    assert faults == []
    assert job.later is not None
    for sequence, found in ((job, ["off", "cold"]), (job.later, ["off", "hot"])):
        book = open_book(sequence, Graph(machine), library_of({}))
        assert [only(book, name) for name in ("key", "warmth")] == [ControlState(position) for position in found]


NUTS = """
machine: Trial pump
options: {drive: [belt, gear], side: [plain, bolted]}
controls:
  warmth: {positions: [cold, hot], normal: cold}
parts: {cover: {}, pump: {}}
fasteners:
  nuts: {name: nut, kind: nut, count: 4, thread: M8}
  bolts:
    {name: bolt, kind: bolt, count: 4, thread: M8, torque: 20 N·m, secures: cover, to: pump, counterhold: nuts}
  side-nuts: {name: side nut, kind: nut, count: 2, thread: M8}
  side-bolts:
    {name: side bolt, kind: bolt, count: 2, thread: M8, torque: 20 N·m, secures: cover, to: pump,
     counterhold: side-nuts, when: {side: bolted}}
results-in: {run: {warmth: hot}}
"""


@pytest.mark.parametrize(
    ("step", "account", "option", "choice"),
    [
        ("remove: nuts\n    when: {drive: belt}", "bolts", "drive", "belt"),
        ("remove: side-nuts", "side-bolts", "side", "bolted"),
        ("run: pump\n    when: {drive: belt}", "warmth", "drive", "belt"),
        ("remove: cover\n    when: {drive: belt}", "cover", "drive", "belt"),
    ],
)
def test_what_comes_of_a_step_is_so_in_its_variants_only(step: str, account: str, option: str, choice: str) -> None:
    """A bolt is loose where its nut came off, an engine is hot where it ran."""
    book = book_of(f"  - {step}\n", machine=NUTS)
    space, before = book.graph.space, book_of("  - note: a\n", machine=NUTS).closing(account)
    [(present, opening)] = before
    changed = space.both(present, space.chosen(option, [choice]))
    found = {variants: state != opening for variants, state in book.closing(account)}
    left = space.without(present, changed)
    assert found == ({changed: True, left: False} if left else {changed: True})


def test_a_nut_that_is_only_loosened_leaves_its_bolt_as_it_is() -> None:
    for step, loose in (
        ("loosen: nuts", 0),
        ("remove: nuts\n    count: 3", 3),
        ("replace: nuts", 4),
        ("remove: bolts", 0),
    ):
        state = only(book_of(f"  - {step}\n", machine=NUTS), "bolts")
        assert isinstance(state, GroupState)
        assert state.loose == loose


def test_of_many_that_made_it_so_a_few_are_told_and_no_variant_is_lost() -> None:
    models = [f"m{n}" for n in range(MOST_CAUSES + 2)]
    machine = f"machine: Trial\noptions: {{model: [{', '.join(models)}, other]}}\nparts: {{cover: {{}}}}\n"
    book = book_of("".join(f"  - remove: cover\n    when: {{model: {model}}}\n" for model in models), machine=machine)
    space, left = book.graph.space, book.graph.space.built
    closing = book.closing("cover")
    assert len(closing) <= MOST_CAUSES
    for variants, state in closing:
        assert isinstance(state, PartState)
        assert space.within(variants, left)
        left = space.without(left, variants)
        assert state.on is (variants == space.chosen("model", ["other"]))
    assert left == NONE
    assert sum(isinstance(state, PartState) and not state.on for _, state in closing) > 1


def test_of_few_that_made_it_so_each_is_told() -> None:
    models = [f"m{n}" for n in range(MOST_CAUSES - 1)]
    machine = f"machine: Trial\noptions: {{model: [{', '.join(models)}, other]}}\nparts: {{cover: {{}}}}\n"
    book = book_of("".join(f"  - remove: cover\n    when: {{model: {model}}}\n" for model in models), machine=machine)
    assert {state for _, state in book.closing("cover")} == {
        PartState(), *(PartState(on=False, off_by=n) for n in range(len(models)))
    }  # fmt: skip
