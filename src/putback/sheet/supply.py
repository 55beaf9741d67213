"""What is on a shopping list."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from putback.model.details import Kit
from putback.model.job import Job
from putback.model.machine import Fastener, Fluid, Line, Part
from putback.model.terms import When
from putback.units import Quantity


class SupplyKind(StrEnum):
    """What a thing to get is; in the order of the list."""

    KIT = "kit"
    PART = "part"
    FLUID = "fluid"
    CONSUMABLE = "consumable"
    TOOL = "tool"
    EQUIPMENT = "equipment"
    WEAR = "protective equipment"


class Over(NamedTuple):
    """Pieces of a kit that the jobs leave over."""

    thing: Part | Fastener | Line
    """What is left over."""
    pieces: int
    """How many."""
    when: When | None
    """The variants that leave so many over; None for all."""


class OnlyIn(NamedTuple):
    """The steps of one job of which only a branch needs something."""

    job: str
    """The job, by the name of its file."""
    steps: tuple[str, ...]
    """The numbers of the steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """One thing to get."""

    kind: SupplyKind
    """What kind of thing it is."""
    key: str
    """Its name in the files, or what stands for it."""
    what: Kit | Part | Fastener | Line | Fluid | str
    """The thing itself; of tools, consumables and equipment, its name."""
    count: int = 0
    """How many; 0 for what is not counted."""
    volume: Quantity | None = None
    """How much of a fluid."""
    when: When | None = None
    """The variants that need it; None for all."""
    varies: bool = False
    """Whether some of these need fewer."""
    jobs: tuple[str, ...] = ()
    """The jobs that need it, by the names of their files."""
    only_if: tuple[OnlyIn, ...] = ()
    """The jobs of which only a branch needs it; empty when one needs it in any case."""
    kit: Kit | None = None
    """Of a part that is bought alone: the kit that has it as well."""
    over: tuple[Over, ...] = ()
    """What a kit leaves over."""


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """What to get for some jobs."""

    jobs: tuple[Job, ...]
    """The jobs, in the order of the guide."""
    needed: tuple[Supply, ...]
    """What they need in any case."""
    perhaps: tuple[Supply, ...]
    """What only a branch of one of them needs."""
    unwalked: tuple[Job, ...]
    """Jobs that could not be walked; what they need is not in it."""
