"""Jobs written out: blocks in their places, sections, variants, ways through inspections."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from putback.ledger.entries import question
from putback.ledger.reverse import WayBack, reverse
from putback.model.job import Block
from putback.model.machine import Machine
from putback.model.states import PartState, State
from putback.variants import NONE
from tests.ledger.trial import book_of, book_of_block, said


def test_a_list_of_things_is_an_entry_each() -> None:
    book = book_of("  - remove: [guard-bolts, guard]\n")
    assert [(entry.index, entry.target and entry.target.name) for entry in book.entries] == [
        (0, "guard-bolts"),
        (1, "guard"),
    ]


def test_a_step_without_a_thing_is_an_entry() -> None:
    [wait, note] = book_of("  - wait: 5 min\n  - note: Look.\n").entries
    assert wait.target is None
    assert note.touched == ()


def test_a_step_is_limited_to_the_variants_that_have_its_thing() -> None:
    book = book_of("  - remove: guard\n  - remove: cover\n    when: {drive: gear}\n")
    space = book.graph.space
    assert [entry.variants for entry in book.entries] == [space.chosen("drive", [name]) for name in ("belt", "gear")]


def test_a_step_in_no_variant_is_no_entry() -> None:
    assert book_of("  - remove: guard\n    when: {drive: gear}\n").entries == []


def test_sections_limit_their_steps_and_are_numbered() -> None:
    book = book_of("""sections:
  - title: One
    when: {drive: gear}
    steps: [{note: a}]
  - title: Two
    steps: [{note: b}]
""")
    one, two = book.entries
    assert one.variants == book.graph.space.chosen("drive", ["gear"])
    assert two.variants == book.graph.space.built
    assert one.section != two.section


def test_a_block_stands_in_its_place_and_in_the_section_around_it() -> None:
    book = book_of("  - note: a\n  - do: b\n  - note: c\n", {"b": "steps: [{remove: cover}]"})
    assert [said(entry.step) for entry in book.entries] == ["note", "remove cover", "note"]
    assert len({entry.section for entry in book.entries}) == 1
    [way] = book.entries[1].via
    assert said(way) == "do b"
    assert [also.message for also in book.entries[1].ways] == ["done from here"]


def test_a_block_with_titles_opens_sections_of_its_own() -> None:
    book = book_of("  - note: a\n  - do: b\n  - note: c\n", {"b": "sections: [{title: In, steps: [{note: x}]}]"})
    assert len({entry.section for entry in book.entries}) == 3


def test_nested_blocks_and_their_ways() -> None:
    blocks = {"outer": "steps: [{do: inner}, {remove: gasket}]", "inner": "steps: [{remove: cover}]"}
    book = book_of("  - do: outer\n  - reverse: outer\n", blocks)
    assert [said(entry.step) for entry in book.entries] == [
        "remove cover", "remove gasket", "install gasket new", "install cover",
    ]  # fmt: skip
    assert [said(step) for step in book.entries[3].via] == ["reverse outer"]
    assert [also.message for also in book.entries[3].ways] == ["reversed from here"]


def test_several_blocks_are_reversed_in_opposite_order() -> None:
    blocks = {"one": "steps: [{remove: cover}]", "two": "steps: [{remove: gasket}]"}
    book = book_of("  - do: [one, two]\n  - reverse: [one, two]\n", blocks)
    assert [entry.target.name for entry in book.entries if entry.target] == ["cover", "gasket", "gasket", "cover"]


def test_a_block_that_leads_into_itself_ends() -> None:
    assert book_of("  - do: b\n", {"b": "steps: [{remove: cover}, {do: b}]"}).entries[0].target
    assert book_of_block("steps: [{remove: cover}, {do: b}]").entries[-1].index == 0


def test_an_unknown_block_is_left_out() -> None:
    assert book_of("  - do: nothing\n").entries == []


def test_otherwise_happens_only_where_the_answer_is_out_of_limit() -> None:
    book = book_of("  - measure: cover\n    otherwise: [{remove: cover}]\n  - note: a\n")
    space = book.graph.space
    measure, remove, note = book.entries
    assert space.names[-1] == question(measure.step) == "cover out of limit"
    assert remove.variants == space.chosen("cover out of limit", ["yes"])
    assert measure.variants == note.variants == space.built


def test_a_stop_in_an_otherwise_ends_that_way_and_leaves_no_trace() -> None:
    book = book_of("  - check: leaks\n    otherwise: [{remove: cover}, {stop: Give up.}, {note: never}]\n  - note: a\n")
    assert [said(entry.step) for entry in book.entries] == ["check leaks", "remove cover", "stop", "note"]
    assert [_on(state) for _, state in book.before("cover", book.entries[2])] == [False]
    assert book.entries[-1].variants == book.entries[-1].reached == book.graph.space.built
    assert book.alive == book.graph.space.chosen("leaks out of limit", ["no"])
    assert [_on(state) for _, state in book.before("cover", book.entries[3])] == [True]
    assert [_on(state) for _, state in book.closing("cover")] == [True]


def _on(state: State) -> bool:
    assert isinstance(state, PartState)
    return state.on


def test_a_stop_for_some_variants_leaves_its_trace_in_the_others() -> None:
    branch = "[{remove: cover}, {stop: Give up., when: {drive: gear}}]"
    book = book_of(f"  - check: leaks\n    otherwise: {branch}\n  - note: a\n")
    space = book.graph.space
    off = space.both(space.chosen("leaks out of limit", ["yes"]), space.chosen("drive", ["belt"]))
    assert {_on(state): variants for variants, state in book.closing("cover")}[False] == off


def test_a_stop_outside_an_otherwise_is_an_end_where_all_must_be_whole() -> None:
    book = book_of("  - remove: cover\n  - stop: Enough.\n  - install: cover\n")
    assert [said(entry.step) for entry in book.entries] == ["remove cover", "stop"]
    assert book.alive == book.graph.space.built
    assert book.closing("cover")


def test_a_stop_in_some_variants() -> None:
    book = book_of("  - stop: Not for gears.\n    when: {drive: gear}\n  - remove: cover\n")
    assert book.entries[-1].variants == book.graph.space.chosen("drive", ["belt"])
    assert book.alive == book.graph.space.built


def test_apply_touches_what_it_goes_on() -> None:
    [entry] = book_of("  - apply: grease\n    to: [cover, gasket]\n").entries
    assert entry.target is not None
    assert entry.target.name == "grease"
    assert [ref.name for ref in entry.touched] == ["cover", "gasket"]


def test_excluded_variants_have_no_entries() -> None:
    machine = "machine: Trial\noptions: {drive: [belt, gear]}\nexclude: [{drive: gear}]\nparts: {cover: {}}\n"
    book = book_of("  - remove: cover\n    when: {drive: gear}\n  - install: cover\n", machine=machine)
    [install] = book.entries
    assert install.variants == book.graph.space.built != NONE


def test_the_way_back_of_a_block_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def counted(block: Block, machine: Machine, blocks: Mapping[str, Block]) -> WayBack:
        asked.append(block.key)
        return reverse(block, machine, blocks)

    monkeypatch.setattr("putback.ledger.program.reverse", counted)
    book_of("  - do: off\n  - reverse: off\n" * 2, {"off": "steps: [{remove: cover}]"})
    assert asked == ["off"]
