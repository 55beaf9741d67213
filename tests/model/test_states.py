"""What accounts hold, and how one entry changes them."""

from __future__ import annotations

import pytest

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


def test_all_of_a_group() -> None:
    assert GroupState(1, 2, 3).all == 6
