"""What has positions: valves, switches, levers, and states of a machine such as a hot engine."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.terms import Ref
from putback.model.thing import Thing

OPEN, SHUT = ("open", "on"), ("closed", "shut", "off")
"""Positions of a tap: its handle lies along the pipe, and across it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Control(Thing):
    """A thing with positions that a job must set and put back."""

    positions: tuple[Ref, ...]
    """All positions."""
    normal: Ref
    """The position before and after any job."""
    any_at_end: bool = False
    """Its position at the end is of no account."""
    phrases: tuple[tuple[str, str], ...] = ()
    """What brings it to a position, in the author's words, by position: `(("off", "switch the battery off"),)`."""

    looks: str | None = None
    """What it looks like, to be drawn: lever, rotary, switch, tap or pull."""

    def phrase(self, position: str) -> str | None:
        """Return the author's words for what brings it to a position."""
        return dict(self.phrases).get(position)
