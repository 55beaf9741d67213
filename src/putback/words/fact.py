"""What a fact of a step can be."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from putback.units import Quantity


class FactKind(Enum):
    """What a fact says."""

    TORQUE = "torque"
    """How tight: a torque, a stage, or what is set on the wrench; a quantity."""
    LIMIT = "limit"
    DIFFERENCE = "difference"
    """Within what it is good: a quantity or words."""
    SEEK = "seek"
    """What is looked for, words."""
    COUNT = "count"
    """How many pieces."""
    SIZE = "size"
    """Thread, length or drive, as it is marked."""
    NUMBER = "number"
    """A part number."""
    TURN = "turn"
    """The way to turn: clockwise or anticlockwise."""
    UNSCREWED = "unscrewed"
    """That a left-hand thread is loosened clockwise: the key of the thing that has it."""
    SCREWED_IN = "screwed-in"
    """That a left-hand thread is tightened anticlockwise: the key of the thing that has it."""
    SEEN_FROM = "seen-from"
    """Whence that way is seen, words."""
    ANGLE = "angle"
    """How far something is turned, a quantity."""
    GENTLY = "gently"
    """Loosened a little at a time, in the opposite order: empty, there is but one such way."""
    HOLD = "hold"
    """What is held while something is turned: its key, and how many pieces of it."""
    BY_HAND = "by-hand"
    """How it is tightened without a torque, words."""
    ORDER = "order"
    """The order of a group: the key of the thing that has it."""
    ROUNDS = "rounds"
    """How often the last stage goes round."""
    FILM = "film"
    """The state of the thread that the torque is meant for: a `Film`."""
    GRADE = "grade"
    """What a fluid is, words."""
    AMOUNT = "amount"
    """How much of a fluid the step lets out or fills in, a quantity."""
    WHOLE = "whole"
    """How much of a fluid there is in all, a quantity."""
    SPEED = "speed"
    """At which speed the machine runs: a quantity or words."""
    TIME = "time"
    """How long, a quantity."""
    MASS = "mass"
    """What is lifted, a quantity."""
    PEOPLE = "people"
    """How many lift."""
    UNTIL = "until"
    """How long, words."""
    AGAINST = "against"
    """What a mark is made against, words."""
    WORDS = "words"
    """The author's words that the action itself is: why a job ends."""


class Fact(NamedTuple):
    """One fact of a step."""

    kind: FactKind
    """What it says."""
    value: Quantity | int | str
    """That."""
