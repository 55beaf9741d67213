"""The way back of a block: what `reverse` stands for."""

from __future__ import annotations

import pytest

from putback.ledger.reverse import reverse
from putback.variants import ALL, VariantSet
from putback.variants.graph import Graph
from tests.ledger.trial import MACHINE, block_of, book_of, machine_of, said
from tests.ledger.trial import said as said_of


def back(steps: str) -> list[str]:
    way = reverse(block_of(f"steps:\n{steps}"), machine_of())
    assert not way.stuck
    return [said(step) for step in way.steps]


def test_last_off_is_first_on() -> None:
    assert back("  - remove: cover\n  - remove: [gasket, impeller]\n") == [
        "install impeller new clockwise", "install gasket new", "install cover",
    ]  # fmt: skip


def test_fasteners_go_in_with_their_compound_and_are_brought_to_their_torque() -> None:
    assert back("  - remove: screws\n") == ["apply grease screws", "install screws", "tighten screws"]


def test_what_is_finished_by_putting_it_in_is_not_tightened() -> None:
    assert back("  - remove: pin\n") == ["install pin new"]


def test_a_part_is_aligned_before_its_fasteners_are_tight() -> None:
    assert back("  - mark: tensioner\n  - remove: tensioner-bolt\n  - remove: tensioner\n") == [
        "install tensioner", "align tensioner", "install tensioner-bolt", "tighten tensioner-bolt",
    ]  # fmt: skip


def test_a_part_that_was_marked_elsewhere_is_aligned_too() -> None:
    assert back("  - remove: tensioner\n") == ["install tensioner", "align tensioner"]


def test_counts_are_kept() -> None:
    assert back("  - remove: screws\n    count: 2\n") == ["apply grease screws", "install screws 2", "tighten screws 2"]


def test_a_compound_goes_on_all_that_are_out_at_once() -> None:
    assert back("  - {remove: screws, count: 2}\n  - remove: screws\n") == [
        "apply grease screws", "install screws 4", "tighten screws 4", "install screws 2", "tighten screws 2",
    ]  # fmt: skip
    assert back("  - remove: screws\n  - install: screws\n  - remove: screws\n").count("apply grease screws") == 2


def test_what_was_loosened_is_tight_again_once_all_of_it_went_back_in() -> None:
    """Pieces that come out in two goes are all out; where one stayed in, it is still to be tightened."""
    out = "  - loosen: screws\n  - {remove: screws, count: 2}\n"
    assert back(f"{out}  - {{remove: screws, count: 4}}\n") == [
        "apply grease screws", "install screws 4", "tighten screws 4", "install screws 2", "tighten screws 2",
    ]  # fmt: skip
    assert back(f"{out}  - {{remove: screws, count: 3}}\n")[-1] == "tighten screws"


def test_the_rest_of_a_group_is_counted_out() -> None:
    assert back("  - remove: guard-bolts\n    count: 1\n  - remove: guard-bolts\n") == [
        "install guard-bolts 1", "tighten guard-bolts 1", "install guard-bolts 1", "tighten guard-bolts 1",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("forth", "expected"),
    [
        ("  - loosen: screws\n", ["tighten screws"]),
        ("  - loosen: screws\n    count: 3\n", ["tighten screws 3"]),
        ("  - tighten: screws\n", ["loosen screws"]),
        ("  - install: cover\n", ["remove cover"]),
        ("  - disconnect: hose\n", ["connect hose"]),
        ("  - disconnect: hose\n    at: tail\n", ["connect hose tail"]),
        ("  - connect: hose\n", ["disconnect hose"]),
        ("  - place: stand\n  - place: pan\n", ["take-away pan", "take-away stand"]),
        ("  - take-away: stand\n", ["place stand"]),
        ("  - fill: oil\n", ["drain oil"]),
        ("  - do: b1\n  - do: b2\n", ["reverse b2", "reverse b1"]),
        ("  - reverse: b1\n", ["do b1"]),
    ],
)
def test_the_reverse_of_a_verb(forth: str, expected: list[str]) -> None:
    assert back(forth) == expected


def test_what_was_loosened_and_then_taken_out_is_tightened_once() -> None:
    assert back("  - loosen: tensioner-bolt\n  - remove: tensioner-bolt\n") == [
        "install tensioner-bolt", "tighten tensioner-bolt",
    ]  # fmt: skip


def test_what_is_loosened_everywhere_and_taken_out_in_some_variants_is_tightened_everywhere() -> None:
    assert back("  - loosen: tensioner-bolt\n  - remove: tensioner-bolt\n    when: {drive: belt}\n") == [
        "install tensioner-bolt", "tighten tensioner-bolt", "tighten tensioner-bolt",
    ]  # fmt: skip


def test_what_is_loosened_and_of_which_some_are_taken_out_is_tightened_whole() -> None:
    assert back("  - loosen: guard-bolts\n  - remove: guard-bolts\n    count: 1\n")[-1] == "tighten guard-bolts"


def test_what_was_put_in_and_tightened_is_taken_out() -> None:
    assert back("  - install: guard-bolts\n  - tighten: guard-bolts\n") == ["remove guard-bolts"]


def test_a_control_goes_back_to_where_the_block_found_it() -> None:
    assert back("  - set: selector\n    to: forward\n  - set: selector\n    to: reverse\n") == [
        "set selector forward", "set selector neutral",
    ]  # fmt: skip


def test_an_unknown_control_is_left_out() -> None:
    assert back("  - set: nothing\n    to: forward\n") == []


def test_a_fluid_is_filled_once_its_drains_are_shut() -> None:
    assert back("  - remove: drain\n  - drain: coolant\n  - remove: cover\n") == [
        "install cover", "install drain", "tighten drain", "fill coolant",
    ]  # fmt: skip


def test_a_fluid_that_goes_in_through_its_drain_is_filled_before_that_is_closed() -> None:
    assert back("  - remove: plug\n  - drain: oil\n") == ["fill oil", "install plug", "tighten plug"]


@pytest.mark.parametrize(
    ("forth", "expected"),
    [
        ("  - remove: plug\n", ["fill oil", "install plug", "tighten plug"]),
        ("  - set: seacock\n    to: closed\n", ["set seacock open", "fill coolant"]),
        ("  - loosen: plug\n", ["tighten plug"]),
        ("  - clean: plug\n  - inspect: drain\n", []),
    ],
)
def test_a_fluid_that_ran_out_unsaid_is_filled_all_the_same(forth: str, expected: list[str]) -> None:
    assert back(forth) == expected


def test_several_fluids_are_each_filled_in_their_place() -> None:
    assert back("  - remove: [drain, plug]\n  - drain: [coolant, oil]\n") == [
        "fill oil", "install plug", "tighten plug", "install drain", "tighten drain", "fill coolant",
    ]  # fmt: skip


def test_what_changes_nothing_has_no_reverse() -> None:
    assert (
        back("""
  - caution: hot-caution
  - note: Look.
  - clean: cover
  - inspect: cover
    otherwise: [{note: Take a new one.}]
  - measure: cover
  - mark: tensioner
  - wait: 5 min
  - run: engine
""")
        == []
    )


def test_conditions_are_kept_and_tools_are_not() -> None:
    block = block_of("""
sections:
  - title: One
    when: {drive: belt}
    steps:
      - remove: cover
        when: {drive: [belt, gear]}
        tool: puller
""")
    [step] = reverse(block, machine_of()).steps
    assert step.when is not None
    graph = Graph(machine_of())
    assert graph.meaning(step.when) == graph.space.chosen("drive", ["belt"])
    assert step.tools == ()
    assert step.key == block.sections[0].steps[0].key


@pytest.mark.parametrize(
    "forth",
    [
        "  - replace: gasket\n",
        "  - measure: cover\n    otherwise: [{remove: cover}]\n",
        "  - measure: cover\n    otherwise: [{inspect: gasket, otherwise: [{set: seacock, to: closed}]}]\n",
        "  - check: cover\n    otherwise: [{back-to: first}]\n",
    ],
)
def test_what_is_stuck(forth: str) -> None:
    block = block_of(f"steps:\n  - remove: pin\n{forth}")
    way = reverse(block, machine_of())
    if "back-to" in forth:
        assert not way.stuck
        return
    assert [step.key for step in way.stuck] == [block.sections[0].steps[1].key]
    assert [said(step) for step in way.steps] == ["install pin new"]


def whens(steps: str) -> list[VariantSet]:
    graph = Graph(machine_of())
    way = reverse(block_of(f"steps:\n{steps}"), machine_of())
    return [graph.meaning(step.when) for step in way.steps if said(step) == "fill coolant"]


def test_a_fluid_is_filled_wherever_its_drain_was_opened() -> None:
    assert whens("  - remove: drain\n  - drain: coolant\n    when: {drive: belt}\n") == [ALL]
    assert whens("  - set: seacock\n    to: closed\n    when: {drive: gear}\n  - drain: coolant\n") == [ALL]
    two = "  - remove: drain\n    when: {drive: belt}\n  - set: seacock\n    to: closed\n    when: {drive: gear}\n"
    assert len(whens(two)) == 2
    assert whens(f"{two}  - remove: drain\n") == [ALL]


def test_a_fluid_is_filled_only_where_its_drain_was_opened() -> None:
    block = block_of("steps:\n  - remove: drain\n    when: {drive: belt}\n")
    graph = Graph(machine_of())
    [fill] = [step for step in reverse(block, machine_of()).steps if said(step) == "fill coolant"]
    assert graph.meaning(fill.when) == graph.space.chosen("drive", ["belt"])


def test_what_the_block_fills_again_is_drained() -> None:
    assert back("  - drain: oil\n  - fill: oil\n") == ["drain oil", "fill oil"]


def test_a_control_that_was_set_to_where_it_stood_is_left_there() -> None:
    assert back("  - set: seacock\n    to: open\n") == []


def test_a_fluid_is_filled_when_the_clamps_of_its_hose_are_tight() -> None:
    machine = machine_of(MACHINE.replace("drains: [drain, seacock]", "drains: [hose]"))
    way = reverse(block_of("steps:\n  - loosen: clamp\n  - disconnect: hose\n  - remove: pin\n"), machine)
    assert [said(step) for step in way.steps] == ["install pin new", "connect hose", "tighten clamp", "fill coolant"]


SEAL = """
machine: Seal
parts:
  seal: {lubricant: grease}
  seat: {name: seat, clean-before: seal}
  pump: {}
fasteners:
  screws: {count: 4, torque: 2 N·m, compound: grease, to: pump}
stacks: [[seal, seat]]
"""


@pytest.mark.parametrize(
    ("between", "said"),
    [
        ("", ["clean seat", "apply grease seal", "install seal"]),
        ("  - clean: the face of the seat\n", ["apply grease seal", "install seal"]),
        ("  - {apply: grease, to: seal}\n", ["clean seat", "install seal"]),
        ("  - install: seal\n  - clean: seat\n  - remove: seal\n", ["clean seat", "apply grease seal", "install seal"]),
    ],
)
def test_a_face_is_cleaned_and_a_seal_greased_once(between: str, said: list[str]) -> None:
    book = book_of(f"  - do: b\n{between}  - reverse: b\n", {"b": "steps:\n  - remove: seal\n"}, SEAL)
    assert [said_of(order.step) for order in book.program.orders[-len(said) :]] == said
    assert len(book.program.orders) == 1 + between.count("- ") + len(said)


def test_the_way_back_of_two_blocks_writes_the_compound_once() -> None:
    blocks = {name: f"steps:\n  - {{remove: screws, count: {count}}}\n" for name, count in (("a", 1), ("b", 3))}
    book = book_of("  - do: [a, b]\n  - reverse: [a, b]\n", blocks, SEAL)
    assert [said_of(order.step) for order in book.program.orders[2:]] == [
        "apply grease screws", "install screws 3", "tighten screws 3", "install screws 1", "tighten screws 1",
    ]  # fmt: skip
