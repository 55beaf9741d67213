"""Parts that other things hold, and parts that are screwed on by their own thread."""

from __future__ import annotations

from dataclasses import dataclass

from putback.joints.hands import is_left_hand
from putback.model.machine import Fastener, Part


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainPart(Part):
    """A part that other things hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewedPart(Fastener, Part):
    """A part that is screwed on or in by its own thread: a spark plug, a spin-on filter, an impeller on its shaft."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeParts(Fastener, Part):
    """Several alike parts that other things hold: push rods, valve springs. They are counted as fasteners are."""


def left_handed(thing: Fastener) -> bool:
    """Tell whether a thread is loosened clockwise, be it one that nobody judges."""
    return thing.screw.left_hand if thing.screw else is_left_hand(thing.thread or "")
