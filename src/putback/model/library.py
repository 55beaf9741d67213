"""What all guides share, as plain frozen records: cautions, hazards, tools, consumables, equipment and blocks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from putback.joints.drives import same_drive
from putback.joints.friction import Film
from putback.model.job import Block
from putback.model.said import Said
from putback.model.sealed import seal
from putback.model.terms import Need, Ref, Signal
from putback.source.span import Span
from putback.units import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class LibraryEntry:
    """What all entries of the library have."""

    key: str
    """Its name in the file."""
    span: Span
    """The place of that name."""
    name: str
    """What people call it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyMessage(LibraryEntry):
    """A caution: signal word, hazard, consequence, how to avoid it (ANSI Z535.6)."""

    signal: Signal
    """The signal word."""
    hazard: str
    """What the danger is."""
    consequence: str
    """What it can do."""
    avoid: tuple[str, ...]
    """How to avoid it."""
    covers: tuple[Ref, ...]
    """The hazards that it answers."""
    ppe: tuple[str, ...]
    """Protective equipment."""
    signal_span: Span | None = None
    """Where the signal word stands."""

    @property
    def sentences(self) -> tuple[tuple[str, Said], ...]:
        """What it says, each with its key in the file: hazard, consequence, each way to avoid it."""
        avoid = (("avoid", way) for way in self.avoid)
        parts = (("hazard", self.hazard), ("consequence", self.consequence), *avoid)
        return tuple((key, text) for key, text in parts if isinstance(text, Said))


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard(LibraryEntry):
    """What can hurt, and what brings it about."""

    signal_at_least: Signal
    """The least signal word that answers it."""
    verbs: tuple[str, ...]
    """Verbs that bring it about."""
    tags: tuple[str, ...]
    """Tags of things, fluids and consumables that bring it about."""
    ppe: tuple[str, ...]
    """Protective equipment."""
    safe_when: tuple[Need, ...]
    """While all of these controls have these positions, it is not there."""
    while_: tuple[Need, ...] = ()
    """Only while all of these are so, it is there."""
    mass: Quantity | None = None
    """What comes off or is lifted brings it about from this mass on, kg."""
    licensed: bool = False
    """Whether a licensed professional must do or oversee the work."""
    waste: str | None = None
    """What to do with what comes out."""
    not_worn: tuple[str, ...] = ()
    """What nobody wears for it, since it is drawn in: gloves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool(LibraryEntry):
    """A tool."""

    range: Quantity | None
    """Of a torque wrench."""
    step: Quantity | None
    """Of a torque wrench: the step of its scale."""
    lever: Quantity | None
    """Of a torque wrench: from the middle of the grip to the square drive, mm."""
    extends: Quantity | None
    """Of a crowfoot or an extension: from the square drive to the axis of the fastener, mm."""
    drives: tuple[str, ...]
    """The drives that it fits."""
    tags: tuple[Ref, ...] = ()
    """What it brings about where it is used."""
    reads: tuple[Quantity, ...] = ()
    """Of a measuring tool: the least that it tells apart, of each kind of quantity."""

    def turns(self, drive: str | None) -> bool:
        """Tell whether it fits a drive, in whatever words that is written: `hex key 5 mm` is `inner hex 5 mm`."""
        return drive is not None and any(same_drive(drive, each) for each in self.drives)


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumable(LibraryEntry):
    """What is used up."""

    tags: tuple[Ref, ...]
    """What it brings about."""
    threads: Film | None = None
    """The thread condition that it makes; None when it is not meant for threads."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment(LibraryEntry):
    """What is brought in for the job and taken away after it."""

    rated_load: Quantity | None
    """The mass that it can bear, kg."""
    tags: tuple[Ref, ...] = ()
    """What it brings about where it is placed, taken away or lifted with."""
    thread: str | None = None
    """Its thread, as written."""
    length: Quantity | None = None
    """Its length, mm."""
    stills: tuple[Ref, ...] = ()
    """What cannot be turned, or run, while it is in place."""
    keeps: tuple[Need, ...] = ()
    """How it keeps things while it is in place."""
    may_stay: bool = False
    """Whether it may be in place while the machine runs: as the file says, or as its name tells."""
    lid: bool | None = None
    """Whether what runs into it is shut in, as the file says, or as its name tells; None when it catches nothing."""


@dataclass(frozen=True, slots=True)
class Library:
    """Everything that a guide can call by name."""

    cautions: Mapping[str, SafetyMessage] = field(default_factory=dict)
    """Safety messages, by name."""
    hazards: Mapping[str, Hazard] = field(default_factory=dict)
    """Hazards, by name."""
    tools: Mapping[str, Tool] = field(default_factory=dict)
    """Tools, by name."""
    consumables: Mapping[str, Consumable] = field(default_factory=dict)
    """Consumables, by name."""
    equipment: Mapping[str, Equipment] = field(default_factory=dict)
    """Equipment, by name."""
    blocks: Mapping[str, Block] = field(default_factory=dict)
    """Blocks, by name: the guide's own and the shared ones."""
    broken: frozenset[str] = frozenset()
    """Kinds of entries (tool, equipment, block, …) of which too little is known to say what is missing."""
    unlisted: frozenset[str] = frozenset()
    """Kinds of which a file could not be used: not even all of their names are known."""
    doubtful: frozenset[tuple[str, str]] = frozenset()
    """Entries with a fault, by kind and name: nothing but the name is known of them."""
    lost: frozenset[str] = frozenset()
    """Names of blocks whose file is there and could not be used."""

    def __post_init__(self) -> None:
        """Shut what could be written into."""
        seal(self, "cautions", "hazards", "tools", "consumables", "equipment", "blocks")

    def is_lost(self, block: str) -> bool:
        """Tell whether a block may be written down in a file that could not be used."""
        return block not in self.blocks and (block in self.lost or "block" in self.broken)
