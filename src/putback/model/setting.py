"""What is adjusted on a machine: a quantity with its limit, and what disturbs it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from putback.model.said import Limit
from putback.model.terms import Ref
from putback.model.thing import Thing


class Disturber(NamedTuple):
    """A thing that disturbs a setting when it comes off, loose or apart; another setting, when it is adjusted."""

    ref: Ref
    """Its name."""
    at: tuple[Ref, ...] = ()
    """Of a fastener: the positions whose pieces do so; none for all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting(Thing):
    """An adjustable quantity of the machine: a valve clearance, the deflection of a belt, the length of a linkage."""

    limit: Limit | None = None
    """Within this it is good; always a quantity."""
    measured: str | None = None
    """Where and how it is measured."""
    disturbed_by: tuple[Disturber, ...] = ()
    """What must be back, and tight, before it is adjusted or measured."""
    adjusted_by: tuple[Disturber, ...] = ()
    """Fasteners that are loosened or turned to adjust it: they disturb it as well, and are tightened after it."""
    watched: bool = False
    """Whether it is looked at while the machine runs: the frequency, the charging voltage."""
