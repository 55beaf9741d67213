"""What accounts hold, and how one entry changes them."""

from __future__ import annotations

import pytest

from putback.model.groups import put_in, slacken, take_out, tighten
from putback.model.machine import Line
from putback.model.states import (
    ControlState,
    FluidState,
    GroupState,
    LineState,
    PartState,
    State,
    ends,
    is_off,
    is_open,
    is_shut,
    is_whole,
    opening,
)
from tests.ledger.trial import machine_of

THINGS = machine_of().things


@pytest.mark.parametrize(
    ("key", "state", "undone"),
    [
        ("cover", PartState(), PartState(on=False)),
        ("screws", GroupState(6), GroupState(0, 0, 6, 6)),
        ("hose", LineState(), LineState(frozenset({"body", "tail"}))),
        ("coolant", FluidState(), FluidState(full=False)),
        ("seacock", ControlState("open"), ControlState("closed")),
    ],
)
def test_how_an_account_opens(key: str, state: State, undone: State) -> None:
    assert opening(THINGS[key]) == state
    assert opening(THINGS[key], undone=True) == undone
    assert is_whole(state)


def test_the_ends_of_a_line() -> None:
    hose = THINGS["hose"]
    assert isinstance(hose, Line)
    assert ends(hose) == {"body", "tail"}


@pytest.mark.parametrize(
    ("key", "state", "off", "whole"),
    [
        ("cover", PartState(on=True), False, True),
        ("cover", PartState(on=False), True, False),
        ("screws", GroupState(6), False, True),
        ("screws", GroupState(0, 6), False, True),
        ("screws", GroupState(5, 0, 1), False, False),
        ("screws", GroupState(0, 0, 6), True, False),
        ("clamp", GroupState(1), False, True),
        ("clamp", GroupState(0, 1), True, True),
        ("hose", LineState(), False, True),
        ("hose", LineState(frozenset({"body"})), False, False),
        ("hose", LineState(frozenset({"body", "tail"})), True, False),
        ("coolant", FluidState(full=False), True, False),
        ("seacock", ControlState("closed"), True, True),
    ],
)
def test_off_and_whole(key: str, state: State, off: bool, whole: bool) -> None:
    assert is_off(THINGS[key], state) is off
    assert is_whole(state) is whole


@pytest.mark.parametrize(
    ("key", "state", "opened", "shut"),
    [
        ("drain", GroupState(1), False, True),
        ("drain", GroupState(0, 1), False, False),
        ("drain", GroupState(0, 0, 1), True, False),
        ("seacock", ControlState("open"), False, True),
        ("seacock", ControlState("closed"), True, False),
        ("hose", LineState(frozenset({"tail"})), True, False),
        ("cover", PartState(on=False), True, False),
    ],
)
def test_open_and_shut_drains(key: str, state: State, opened: bool, shut: bool) -> None:
    assert is_open(THINGS[key], state) is opened
    assert is_shut(THINGS[key], state) is shut


def test_taking_out_all() -> None:
    assert take_out(GroupState(4, 2), None, 7) == GroupState(0, 0, 6, 6, off_by=7)


def test_taking_out_some_takes_loose_ones_first() -> None:
    assert take_out(GroupState(4, 2), 3, 7) == GroupState(3, 0, 3, 3, off_by=7)


def test_taking_out_more_than_are_in() -> None:
    assert take_out(GroupState(1, 1, 4, 4), 5, 7) == GroupState(0, 0, 6, 6, off_by=7)


def test_taking_out_none_blames_no_step() -> None:
    assert take_out(GroupState(0, 0, 6, 6, off_by=3), None, 7) == GroupState(0, 0, 6, 6, off_by=3)


def test_the_most_out_counts_since_all_were_in() -> None:
    once = put_in(take_out(GroupState(6), 4, 1), 3, 2, finished=True)
    assert once.taken == 4
    assert take_out(once, 1, 3).taken == 4
    assert take_out(take_out(once, 5, 3), None, 4).taken == 6
    again = put_in(once, None, 3, finished=True)
    assert take_out(again, 2, 4).taken == 2


def test_putting_in_leaves_hand_tight_unless_finished_by_it() -> None:
    out = GroupState(0, 0, 6, 6, off_by=1)
    assert put_in(out, None, 2, finished=False) == GroupState(0, 6, 0, 6, 1, 2)
    assert put_in(out, 4, 2, finished=True) == GroupState(4, 0, 2, 6, 1, 2)
    assert put_in(out, 9, 2, finished=True) == GroupState(6, 0, 0, 6, 1, 2)


def test_slackening_and_tightening() -> None:
    loose = slacken(GroupState(6), 2, 1)
    assert (loose.tight, loose.loose, loose.off_by, loose.on_by) == (4, 2, 1, 1)
    assert slacken(GroupState(6), None, 1).loose == 6
    assert tighten(loose, None).tight == 6
    assert tighten(loose, 1) == loose._replace(tight=5, loose=1)
    assert tighten(GroupState(6), None) == GroupState(6)


def test_slackening_keeps_the_step_that_took_some_out() -> None:
    assert slacken(GroupState(4, 0, 2, 2, off_by=1), None, 5).off_by == 1


def test_all_of_a_group() -> None:
    assert GroupState(1, 2, 3).all == 6
