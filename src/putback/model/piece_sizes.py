"""The different pieces of one thing: which length goes to which positions."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.machine import Fastener, Part
from putback.units import Quantity


@dataclass(frozen=True, slots=True)
class PieceSize:
    """Pieces of one thing that are alike."""

    thing: Fastener | Part
    """What they are pieces of."""
    length: Quantity | None = None
    """Their length."""
    positions: tuple[str, ...] = ()
    """Where they go, when that is not where all others of the thing go."""

    @property
    def millimetres(self) -> float | None:
        """Their length, mm; None for one that is no single value."""
        value = self.length.to("mm").nominal if self.length else None
        return None if value is None else float(value)


def piece_sizes(thing: Fastener | Part) -> tuple[PieceSize, ...]:
    """Return the different pieces of a thing, in the order of its positions."""
    if not isinstance(thing, Fastener) or not thing.lengths:
        return (PieceSize(thing, thing.length if isinstance(thing, Fastener) else None),)
    by_length: dict[object, list[str]] = {}
    lengths: dict[object, Quantity] = {}
    given = dict(thing.lengths)
    for position in thing.positions or tuple(given):
        if (length := given.get(position)) is not None:
            same = length.to("mm").nominal or length.text
            lengths.setdefault(same, length)
            by_length.setdefault(same, []).append(position)
    if len(by_length) == 1:
        return (PieceSize(thing, next(iter(lengths.values()))),)
    return tuple(PieceSize(thing, lengths[same], tuple(places)) for same, places in by_length.items())
