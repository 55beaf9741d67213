"""What accounts hold, and how one entry changes them."""

from __future__ import annotations

import pytest

from putback.ledger.states import (
    Group,
    Joint,
    Level,
    Piece,
    Setting,
    State,
    ends,
    is_off,
    is_open,
    is_shut,
    is_whole,
    opening,
    put_in,
    slacken,
    take_out,
    tighten,
)
from putback.model.machine import Line
from tests.ledger.trial import machine_of

THINGS = machine_of().things


@pytest.mark.parametrize(
    ("key", "state", "undone"),
    [
        ("cover", Piece(), Piece(on=False)),
        ("screws", Group(6), Group(0, 0, 6, 6)),
        ("hose", Joint(), Joint(frozenset({"body", "tail"}))),
        ("coolant", Level(), Level(full=False)),
        ("seacock", Setting("open"), Setting("closed")),
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
        ("cover", Piece(on=True), False, True),
        ("cover", Piece(on=False), True, False),
        ("screws", Group(6), False, True),
        ("screws", Group(0, 6), False, True),
        ("screws", Group(5, 0, 1), False, False),
        ("screws", Group(0, 0, 6), True, False),
        ("clamp", Group(1), False, True),
        ("clamp", Group(0, 1), True, True),
        ("hose", Joint(), False, True),
        ("hose", Joint(frozenset({"body"})), False, False),
        ("hose", Joint(frozenset({"body", "tail"})), True, False),
        ("coolant", Level(full=False), True, False),
        ("seacock", Setting("closed"), True, True),
    ],
)
def test_off_and_whole(key: str, state: State, off: bool, whole: bool) -> None:
    assert is_off(THINGS[key], state) is off
    assert is_whole(state) is whole


@pytest.mark.parametrize(
    ("key", "state", "opened", "shut"),
    [
        ("drain", Group(1), False, True),
        ("drain", Group(0, 1), False, False),
        ("drain", Group(0, 0, 1), True, False),
        ("seacock", Setting("open"), False, True),
        ("seacock", Setting("closed"), True, False),
        ("hose", Joint(frozenset({"tail"})), True, False),
        ("cover", Piece(on=False), True, False),
    ],
)
def test_open_and_shut_drains(key: str, state: State, opened: bool, shut: bool) -> None:
    assert is_open(THINGS[key], state) is opened
    assert is_shut(THINGS[key], state) is shut


def test_taking_out_all() -> None:
    assert take_out(Group(4, 2), None, 7) == Group(0, 0, 6, 6, off_by=7)


def test_taking_out_some_takes_loose_ones_first() -> None:
    assert take_out(Group(4, 2), 3, 7) == Group(3, 0, 3, 3, off_by=7)


def test_taking_out_more_than_are_in() -> None:
    assert take_out(Group(1, 1, 4, 4), 5, 7) == Group(0, 0, 6, 6, off_by=7)


def test_taking_out_none_blames_no_step() -> None:
    assert take_out(Group(0, 0, 6, 6, off_by=3), None, 7) == Group(0, 0, 6, 6, off_by=3)


def test_the_most_out_counts_since_all_were_in() -> None:
    once = put_in(take_out(Group(6), 4, 1), 3, 2, finished=True)
    assert once.taken == 4
    assert take_out(once, 1, 3).taken == 4
    assert take_out(take_out(once, 5, 3), None, 4).taken == 6
    again = put_in(once, None, 3, finished=True)
    assert take_out(again, 2, 4).taken == 2


def test_putting_in_leaves_hand_tight_unless_finished_by_it() -> None:
    out = Group(0, 0, 6, 6, off_by=1)
    assert put_in(out, None, 2, finished=False) == Group(0, 6, 0, 6, 1, 2)
    assert put_in(out, 4, 2, finished=True) == Group(4, 0, 2, 6, 1, 2)
    assert put_in(out, 9, 2, finished=True) == Group(6, 0, 0, 6, 1, 2)


def test_slackening_and_tightening() -> None:
    loose = slacken(Group(6), 2, 1)
    assert (loose.tight, loose.loose, loose.off_by, loose.on_by) == (4, 2, 1, 1)
    assert slacken(Group(6), None, 1).loose == 6
    assert tighten(loose, None).tight == 6
    assert tighten(loose, 1) == loose._replace(tight=5, loose=1)
    assert tighten(Group(6), None) == Group(6)


def test_slackening_keeps_the_step_that_took_some_out() -> None:
    assert slacken(Group(4, 0, 2, 2, off_by=1), None, 5).off_by == 1


def test_all_of_a_group() -> None:
    assert Group(1, 2, 3).all == 6
