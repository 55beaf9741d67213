"""Questions to a walked job: what stood where, what closes how, and what is in the way."""

from __future__ import annotations

from putback.ledger import Obstacle
from putback.model.states import GroupState, LineState, PartState, is_whole
from putback.model.verbs.controls import Run
from putback.model.verbs.pieces import Install, Remove, Tighten
from putback.variants import NONE
from putback.variants.graph import Why
from tests.ledger.trial import book_of, only

ROUND = """  - remove: screws
  - remove: cover
  - install: cover
  - install: screws
  - tighten: screws
"""


def keys(obstacles: list[Obstacle]) -> list[tuple[str, str, Why]]:
    return [(obstacle.edge.outer, obstacle.edge.inner, obstacle.edge.why) for obstacle in obstacles]


def test_before_an_entry() -> None:
    book = book_of(ROUND)
    built = book.graph.space.built
    assert [book.before("screws", entry) for entry in book.entries] == [
        ((built, GroupState(6)),),
        ((built, GroupState(0, 0, 6, 6, 0)),),
        ((built, GroupState(0, 0, 6, 6, 0)),),
        ((built, GroupState(0, 0, 6, 6, 0)),),
        ((built, GroupState(0, 6, 0, 6, 0, 3)),),
    ]
    assert book.before("nothing", book.entries[0]) == ()
    assert book.closing("nothing") == ()


def test_before_is_limited_to_the_entry_and_to_variants_that_have_the_thing() -> None:
    book = book_of("  - remove: cover\n    when: {drive: gear}\n  - inspect: cover\n")
    remove, inspect = book.entries
    gear = book.graph.space.chosen("drive", ["gear"])
    assert book.before("cover", remove) == ((gear, PartState()),)
    assert len(book.before("cover", inspect)) == 2
    belt = book.graph.space.chosen("drive", ["belt"])
    assert book.before("guard", inspect) == ((belt, PartState()),)
    assert book.before("guard", remove) == ()


def test_closing_is_limited_to_variants_that_have_the_thing() -> None:
    book = book_of("  - note: Nothing.\n")
    assert book.closing("guard") == ((book.graph.space.chosen("drive", ["belt"]), PartState()),)


def test_closing_leaves_out_ways_that_were_given_up() -> None:
    book = book_of("  - check: leaks\n    otherwise: [{remove: cover}, {stop: Give up.}]\n")
    assert only(book, "cover") == PartState()


def test_where_a_test_holds() -> None:
    book = book_of("  - remove: cover\n    when: {drive: gear}\n  - inspect: cover\n")
    inspect = book.entries[1]
    assert book.where("cover", inspect, is_whole) == book.graph.space.chosen("drive", ["belt"])
    assert book.where("cover", inspect, lambda state: isinstance(state, LineState)) == NONE


def test_the_entries_of_some_verbs() -> None:
    book = book_of(ROUND)
    assert [entry.index for entry in book.of(Install)] == [2, 3]
    assert [entry.index for entry in book.of(Tighten, Remove)] == [0, 1, 4]
    assert book.of(Run) == []


def test_the_entry_with_a_number() -> None:
    book = book_of(ROUND)
    assert book.by(3) is book.entries[3]
    assert book.by(-1) is None


def test_accounts() -> None:
    accounts = set(book_of(ROUND).accounts())
    assert {"screws", "equipment stand", "position of tensioner", "proof of the job"} <= accounts
    assert "position of cover" not in accounts


def test_obstacles_on_the_way_out() -> None:
    book = book_of("  - remove: cover\n  - remove: screws\n  - remove: cover\n")
    first, _, last = book.entries
    [held] = book.obstacles_out(first, "cover")
    assert held.edge.why is Why.SECURES
    assert held.key == "screws"
    assert held.state == GroupState(6)
    assert held.variants == book.graph.space.built
    assert list(book.obstacles_out(last, "cover")) == []


def test_a_line_is_off_a_part_when_that_end_is() -> None:
    steps = "  - remove: body\n  - disconnect: hose\n    at: body\n  - remove: body\n  - remove: tail\n"
    first, _, body, tail = book_of(steps).entries
    book = book_of(steps)
    assert keys(list(book.obstacles_out(first, "body"))) == [("hose", "body", Why.JOINS)]
    assert keys(list(book.obstacles_out(body, "body"))) == []
    # Off at the body, it goes along with the tail.
    assert keys(list(book.obstacles_out(tail, "tail"))) == []


def test_a_clamp_frees_its_hose_when_it_is_loose() -> None:
    book = book_of("  - disconnect: hose\n  - loosen: clamp\n  - disconnect: hose\n")
    first, _, last = book.entries
    assert keys(list(book.obstacles_out(first, "hose"))) == [("clamp", "hose", Why.SECURES)]
    assert list(book.obstacles_out(last, "hose")) == []


def test_obstacles_of_reach_are_covers_and_what_lies_outside() -> None:
    book = book_of("  - inspect: gasket\n")
    [inspect] = book.entries
    assert keys(list(book.obstacles_reach(inspect, "gasket"))) == [("cover", "gasket", Why.STACK)]
    assert list(book.obstacles_reach(inspect, "cover")) == []
    [guard] = book.obstacles_reach(inspect, "screws")
    assert guard.edge.why is Why.BEHIND
    assert guard.variants == book.graph.space.chosen("drive", ["belt"])


def test_obstacles_on_the_way_in_are_inner_things_that_are_off_and_outer_ones_that_are_on() -> None:
    book = book_of("  - remove: impeller\n  - install: gasket\n")
    install = book.entries[1]
    assert keys(list(book.obstacles_in(install, "gasket"))) == [
        ("gasket", "impeller", Why.STACK), ("cover", "gasket", Why.STACK),
    ]  # fmt: skip


def test_a_line_never_hinders_a_part_from_going_on() -> None:
    book = book_of("  - install: body\n  - loosen: clamp\n  - disconnect: hose\n  - install: body\n")
    connected, *_, off = book.entries
    for entry in (connected, off):
        assert list(book.obstacles_in(entry, "body")) == []
    assert list(book.obstacles_in(off, "hose")) == []
