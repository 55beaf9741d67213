"""Going back, and what leads away."""

from __future__ import annotations

from itertools import pairwise

import pytest

from putback.ledger import Book, Entry
from putback.ledger.passes import MOST_PASSES
from putback.model.states import ControlState, PartState
from tests.ledger.trial import book_of, said

TAPS = "machine: Trial\nparts: {p: {}}\ncontrols:\n" + "".join(
    f"  v{n}: {{positions: [shut, open], normal: shut}}\n" for n in range(9)
)


def back_to_start(checks: int, *, put_back: bool) -> Book:
    """Walk a job in which each check opens a tap of its own and goes back, and the start shuts them or not."""
    steps = "  - inspect: p\n    name: start\n"
    if put_back:
        steps += "".join(f"  - set: v{n}\n    to: shut\n" for n in range(checks))
    for n in range(checks):
        steps += f"  - check: thing {n}\n    otherwise: [{{set: v{n}, to: open}}, {{back-to: start}}]\n"
    return book_of(steps, machine=TAPS)


def test_a_pass_ends_where_the_same_machine_has_stood() -> None:
    book = back_to_start(9, put_back=True)
    # Each of nine ways back looks at the start and shuts nine taps; then all is as it was.
    assert [len(book.entries), len(book.passes), len(book.ends)] == [1 + 9 + 9 * 3 + 9 * 10, 10, 1]
    assert not book.undecided


def test_what_stays_set_makes_a_machine_of_each_combination() -> None:
    book = back_to_start(3, put_back=False)
    assert len(book.passes) == 2**3
    found = {
        tuple(key for key in ("v0", "v1", "v2") for _, state in book.closing(key, end) if _is_open(state))
        for end in book.ends
    }
    assert {len(opened) for opened in found} == {0, 1, 2, 3}


def _is_open(state: object) -> bool:
    return isinstance(state, ControlState) and state.position == "open"


def test_more_combinations_than_can_be_followed_are_told() -> None:
    book = back_to_start(9, put_back=False)
    assert len(book.passes) == MOST_PASSES + 1
    assert [said(step) for step in book.undecided] == ["back-to start"]


def test_the_way_back_starts_from_the_machine_that_left() -> None:
    branch = "[{remove: cover}, {back-to: look}]"
    book = book_of(f"  - inspect: cover\n    name: look\n  - check: leaks\n    otherwise: {branch}\n  - note: end\n")
    looks = [entry for entry in book.entries if said(entry.step) == "inspect cover"]
    assert [_off(book, entry) for entry in looks] == [False, True]
    assert [_off(book, entry) for entry in book.entries if said(entry.step) == "note"] == [False, True]


def _off(book: Book, entry: Entry) -> bool:
    return any(isinstance(state, PartState) and not state.on for _, state in book.before("cover", entry))


def test_a_way_back_leads_to_the_step_of_its_own_job_or_block() -> None:
    """A block between may have a step of the same name: who goes back in the job does not stop there."""
    inner = "steps:\n  - inspect: gasket\n    name: look\n"
    steps = "  - inspect: cover\n    name: look\n  - do: inner\n  - check: leaks\n"
    book = book_of(f"{steps}    otherwise: [{{remove: cover}}, {{back-to: look}}]\n", {"inner": inner})
    assert [said(book.entries[one.first].step) for one in book.passes] == ["inspect cover", "inspect cover"]


def test_an_end_knows_what_led_to_it() -> None:
    branch = "[{remove: cover}, {back-to: look}]"
    book = book_of(f"  - inspect: gasket\n    name: look\n  - check: leaks\n    otherwise: {branch}\n  - note: end\n")
    first, second = book.ends
    assert [said(entry.step) for entry, _ in book.before_end(first)] == ["note", "check leaks", "inspect gasket"]
    assert [said(entry.step) for entry, _ in book.before_end(second)] == [
        "note", "check leaks", "inspect gasket", "back-to look", "remove cover", "check leaks", "inspect gasket",
    ]  # fmt: skip
    assert all(variants == second.variants for _, variants in book.before_end(second))


def test_what_another_answer_did_is_not_on_the_way_to_an_end() -> None:
    steps = "  - inspect: gasket\n    name: look\n"
    steps += "  - check: leaks\n    otherwise: [{loosen: bolts}, {stop: Enough.}]\n"
    steps += "  - check: noise\n    otherwise: [{remove: cover}, {back-to: look}]\n"
    book = book_of(steps)
    ways = [[said(entry.step) for entry, _ in book.before_end(end)] for end in book.ends]
    assert all("loosen bolts" not in way and "stop" not in way for way in ways)
    assert ["remove cover" in way for way in ways] == [False, True]


def test_a_way_says_all_the_answers_that_led_to_it() -> None:
    steps = "  - inspect: p\n    name: start\n"
    for n in (0, 1):
        steps += f"  - check: thing {n}\n    otherwise: [{{set: v{n}, to: open}}, {{back-to: start}}]\n"
    book = book_of(steps, machine=TAPS)
    [deep, *_] = [end for end in book.ends if book.passes[end.of_pass].parent > 0]
    choice = book.graph.space.smallest(deep.variants, book.alive)
    assert choice == (("thing 0 out of limit", "yes"), ("thing 1 out of limit (2)", "yes"))


def test_who_goes_back_below_a_safety_message_has_read_it() -> None:
    """So the machine is the same, and nothing more could be found: no second pass."""
    steps = "  - caution: hot\n  - inspect: gasket\n    name: look\n"
    steps += "  - check: leaks\n    otherwise: [{clean: cover}, {back-to: look}]\n"
    assert [said(entry.step) for entry in book_of(steps).entries if entry.again] == []


def test_a_second_round_has_sections_of_its_own() -> None:
    book = book_of("""\
sections:
  - title: Look
    steps:
      - inspect: cover
        name: look
  - title: Try
    steps:
      - check: leaks
        otherwise: [{remove: cover}, {back-to: look}]
      - check: noise
        otherwise: [{remove: gasket}, {back-to: look}]
""")
    starts = [each.first for each in book.passes]
    rounds = [book.entries[first:end] for first, end in pairwise([*starts, len(book.entries)])]
    sections = [tuple(dict.fromkeys(entry.section for entry in entries)) for entries in rounds]
    assert [len(each) for each in sections] == [2, 2, 2, 2]
    assert len({section for each in sections for section in each}) == 8


def test_options_alone_make_no_machines_to_tell_apart() -> None:
    """Of a variant there is one machine, however many options decide what is off: it goes back once."""
    options = range(7)
    machine = "machine: Trial\noptions:\n" + "".join(f"  o{n}: [with, bare]\n" for n in options)
    machine += "parts:\n  p: {}\n" + "".join(f"  q{n}: {{}}\n" for n in options)
    steps = "  - inspect: p\n    name: start\n"
    steps += "".join(f"  - remove: q{n}\n    when: {{o{n}: bare}}\n" for n in options)
    steps += "  - check: noise\n    otherwise: [{remove: p}, {back-to: start}]\n"
    book = book_of(steps, machine=machine)
    assert not book.undecided
    assert len(book.passes) == 2


def test_two_answers_to_one_variant_are_two_machines() -> None:
    """Who found it loose has another machine than who did not: only one of them has stood at the start before."""
    steps = "  - inspect: p\n    name: start\n  - check: wear\n    otherwise: [{set: v0, to: open}]\n"
    steps += "  - check: noise\n    otherwise: [{back-to: start}]\n"
    book = book_of(steps, machine=TAPS)
    looks = [entry for entry in book.entries if said(entry.step) == "inspect p"]
    stood = [{_is_open(state) for _, state in book.before("v0", entry)} for entry in looks]
    assert stood == [{False}, {True}]


def test_what_leads_away_from_a_branch_in_a_branch_leaves_no_trace() -> None:
    book = book_of("""\
  - check: leaks
    otherwise:
      - remove: cover
      - check: noise
        otherwise: [{install: cover}, {stop: Enough.}]
  - note: end
""")
    off = [variants for variants, state in book.before("cover", book.entries[-1]) if state == PartState(False, 1)]
    assert off == [book.graph.space.chosen("leaks out of limit", ["yes"])]


def test_who_goes_back_from_the_last_step_takes_along_what_was_done() -> None:
    branch = "[{remove: cover}, {back-to: look}]"
    book = book_of(f"  - inspect: cover\n    name: look\n  - check: leaks\n    otherwise: {branch}\n")
    looks = [entry for entry in book.entries if said(entry.step) == "inspect cover"]
    assert [_off(book, entry) for entry in looks] == [False, True]


@pytest.mark.parametrize(("checks", "followed"), [(1, True), (2, True), (3, False)])
def test_one_jump_brings_back_so_many_machines(monkeypatch: pytest.MonkeyPatch, checks: int, followed: bool) -> None:
    """Each check that opens a tap, and goes on, doubles the machines that come to the jump."""
    for module in ("passes", "standing"):
        monkeypatch.setattr(f"putback.ledger.{module}.MOST_WAYS", 4)
    steps = "  - inspect: p\n    name: start\n"
    steps += "".join(f"  - check: thing {n}\n    otherwise: [{{set: v{n}, to: open}}]\n" for n in range(checks))
    book = book_of(f"{steps}  - check: noise\n    otherwise: [{{back-to: start}}]\n", machine=TAPS)
    assert (not book.undecided) is followed
    if followed:
        assert len(book.passes) == 2**checks


def test_so_many_passes_are_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("putback.ledger.passes.MOST_PASSES", 7)
    assert not back_to_start(3, put_back=False).undecided
    monkeypatch.setattr("putback.ledger.passes.MOST_PASSES", 6)
    assert back_to_start(3, put_back=False).undecided


def test_so_many_steps_are_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    book = back_to_start(2, put_back=False)
    behind = book.passes[-1].first - book.passes[1].first
    monkeypatch.setattr("putback.ledger.passes.MOST_STEPS", behind)
    assert not back_to_start(2, put_back=False).undecided
    monkeypatch.setattr("putback.ledger.passes.MOST_STEPS", behind - 1)
    assert back_to_start(2, put_back=False).undecided
