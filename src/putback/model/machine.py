"""The machine: everything that can come off, be opened, drained or set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from putback.joints.friction import NOT_STATED, Condition
from putback.joints.stages import Stage, by_angle, final_torque
from putback.model.alike import AlikePlaces
from putback.model.control import Control as Control
from putback.model.details import THREADED, Kit, Stack, Wear
from putback.model.fluid import Fluid as Fluid
from putback.model.forms import PartShape, RoundSize
from putback.model.in_joint import InJoint
from putback.model.rotating import Rotating
from putback.model.sealed import seal
from putback.model.setting import Setting
from putback.model.terms import Need, Ref, When
from putback.model.thing import Thing
from putback.source.span import Span
from putback.units import Quantity

if TYPE_CHECKING:
    from putback.joints.heads import HeadForm
    from putback.joints.strength import StrengthClass
    from putback.joints.threads import Thread
    from putback.model.said import Said


@dataclass(frozen=True, kw_only=True)
class Part(Rotating, Thing):
    """What comes off in one piece. It has no slots, so that a part that is screwed on can be a fastener as well."""

    __slots__ = ()

    mass: Quantity | None = None
    """Mass, kg."""
    single_use: bool = False
    """Fitted new every time."""
    uses: tuple[Said, ...] | int = 0
    """How often it may be fitted before a new one is due, or what each use is called; 0 when that is not said."""
    number: str | None = None
    """Part number."""
    kit: str | None = None
    """The kit that it is sold in."""
    own_places: bool = False
    """Each piece goes back where it came from, and is marked before it comes off."""
    adjustable: bool = False
    """Its position is marked or measured before it comes off, and aligned after."""
    hangs: bool = False
    """Nothing but its fasteners carries it: it falls when they are out."""
    wear: Wear | None = None
    """Its wear limit."""
    material: Ref | None = None
    """What it is made of."""
    lubricant: Ref | None = None
    """What is put on it before it goes on: grease, on the lip of a seal."""
    loosen_evenly: bool = False
    """It warps unless its fasteners are loosened in stages, in the opposite order."""
    assembly: tuple[Ref, ...] = ()
    """What comes off with it as one, and is taken apart or built up on the bench."""
    shape: PartShape | None = None
    """What it looks like in a drawing."""
    size: RoundSize | None = None
    """How large it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener(InJoint):
    """A group of alike threaded or locking pieces with one role."""

    kind: str | None = None
    """bolt, nut, screw, pin, …"""
    count: int = 1
    """How many pieces; the most of all variants."""
    counts: tuple[tuple[When, int], ...] = ()
    """How many in which variants, when that differs."""
    uncounted: bool = False
    """Nobody knows how many they are: all come off or none, and they count as one."""
    own_places: bool = False
    """Each piece goes back where it came from, and is marked before it comes off."""
    thread: str | None = None
    """Thread, as written: M6 x 1.0."""
    screw: Thread | None = None
    """The same, understood; None when there is none, or it could not be read."""
    grade: str | None = None
    """Property class or grade, as written: 8.8, A4-70."""
    strength: StrengthClass | None = None
    """The same, understood."""
    engagement: Quantity | None = None
    """Length of thread that is engaged, mm."""
    engagement_span: Span | None = None
    """Where it stands."""
    insert: str | None = None
    """The thread insert that it is screwed into."""
    hole: str | None = None
    """Whether the hole that it is screwed into is `blind` or goes `through`; None when the file does not say."""
    bore: Quantity | None = None
    """The bore of a hollow bolt, mm."""
    shank: Quantity | None = None
    """The thinnest place of a waisted bolt, mm."""
    running_torque: Quantity | None = None
    """What it takes to turn a self-locking nut before anything is tight, N·m or as written."""
    head: HeadForm | None = None
    """What its head looks like, when its drive does not tell."""
    thread_length: Quantity | None = None
    """How much of it has a thread, from its end, mm; all of it when that is not said."""
    length: Quantity | None = None
    """Length, mm."""
    lengths: tuple[tuple[str, Quantity], ...] = ()
    """Length by position, when they differ, mm."""
    drive: str | None = None
    """What turns it: hex 10 mm."""
    secures: tuple[Ref, ...] = ()
    """What comes off only when it is out."""
    at: Ref | None = None
    """The end of a line that it holds, when it holds one only: the part there."""
    releases_when_loose: bool = False
    """True when what it holds is free as soon as it is loose."""
    to: Ref | None = None
    """The part that it is screwed into."""
    counterhold: Ref | None = None
    """The other fastener of the joint, which is held while this one is turned: the bolt of a nut."""
    held_for: Ref | None = None
    """The other fastener of the joint, which is turned while this one is held; it has the torque."""
    locks: tuple[Ref, ...] = ()
    """What cannot move while it is tight, and is held while it is turned: the adjuster of a lock nut."""
    torque: Quantity | None = None
    """Tightening torque, N·m or as written."""
    torque_span: Span | None = None
    """Where the torque stands: its own, or else that of the last stage that gives one."""
    torque_of_steps: Quantity | None = None
    """The greatest torque that a step brings all pieces to, where the machine file gives none."""
    torque_confirmed: str | None = None
    """What confirms a torque that is unusual: the source, and why."""
    stages: tuple[Stage, ...] = ()
    """Stages of tightening, when one torque does not say it."""
    passes: int = 1
    """How often the last stage goes round."""
    retighten_after: Quantity | None = None
    """After how many running hours it is tightened once more."""
    slacken: Quantity | None = None
    """How far each piece is loosened before that, °."""
    reuse: str | None = None
    """Why it may be used again, although it is tightened by an angle."""
    past_hand_tight: Quantity | None = None
    """How far it is turned past hand-tight, ° or turns: of pipe threads, filters and plugs with a gasket."""
    past_hand_tight_span: Span | None = None
    """Where that stands."""
    by_hand: str | None = None
    """How it is tightened by hand, instead of a torque."""
    no_torque: str | None = None
    """Why it has no torque."""
    condition: Condition = NOT_STATED
    """Thread condition that the torque is meant for."""
    condition_text: str | None = None
    """The same, as written."""
    condition_span: Span | None = None
    """Where it stands."""
    tool: Ref | None = None
    """The crowfoot or extension by which it is turned."""
    wrench_angle: Quantity | None = None
    """The angle between that and the wrench; in line when None."""
    compound: Ref | None = None
    """What goes on its thread."""
    positions: tuple[str, ...] = ()
    """Names of the places, one a piece, when they differ."""
    single_use: bool = False
    """Fitted new every time."""
    uses: tuple[Said, ...] | int = 0
    """How often it may be fitted before a new one is due, or what each use is called; 0 when that is not said."""
    number: str | None = None
    """Part number."""
    kit: str | None = None
    """The kit that it is sold in."""

    @property
    def by_angle(self) -> bool:
        """Whether tightening ends by an angle."""
        return by_angle(self.stages)

    @property
    def last_torque(self) -> Quantity | None:
        """The last torque that a wrench shows, N·m or as written."""
        return final_torque(self.stages, self.torque)

    @property
    def due_torque(self) -> Quantity | None:
        """The torque below which it is loose: the machine file's, or else that of steps."""
        return self.last_torque or self.torque_of_steps

    @property
    def turned(self) -> bool:
        """Whether installing leaves it hand-tight, to be tightened with a tool; not so when it is held meanwhile."""
        said = self.thread or self.torque or self.stages or self.past_hand_tight or self.drive or self.no_torque
        return self.held_for is None and self.by_hand is None and (bool(said) or self.threaded)

    @property
    def is_nut(self) -> bool:
        """Whether it goes on a thread, and so comes off before the bolt that it is on."""
        return self.kind is not None and self.kind.split()[-1:] == ["nut"]

    @property
    def threaded(self) -> bool:
        """Whether it has a thread, by what is said of it or by its kind."""
        return bool(self.thread) or self.kind in THREADED


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Thing):
    """A hose, pipe, cable, connector or linkage that joins parts."""

    kind: str | None = None
    """hose, pipe, cable, …"""
    joins: tuple[Ref, ...] = ()
    """The parts that it joins; another line, at a tee."""
    adjustable: bool = False
    """Its position is marked or measured before it comes off, and aligned after."""
    single_use: bool = False
    """Fitted new every time."""
    number: str | None = None
    """Part number."""
    kit: str | None = None
    """The kit that it is sold in."""


AnyThing: TypeAlias = Part | Fastener | Line | Fluid | Control | Setting
"""Whatever has an account in the ledger."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """The thing worked on."""

    path: str
    """Its file."""
    span: Span
    """The place of its name."""
    name: str
    """What it is called."""
    kind: str | None = None
    """What it is."""
    note: str | None = None
    """A remark."""
    options: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The ways in which machines of this model differ."""
    options_given: tuple[tuple[Ref, tuple[Ref, ...]], ...] = ()
    """Each option with its choices, and where they stand."""
    options_span: Span | None = None
    """The place of the key `options`, when there is one."""
    told_by: tuple[tuple[When, str], ...] = ()
    """How to tell which choice of an option a machine has: each choice, with what is seen of it."""
    exclude: tuple[When, ...] = ()
    """Combinations that were never built."""
    exclude_span: Span | None = None
    """The place of the key `exclude`, when there is one."""
    things: Mapping[str, AnyThing] = field(default_factory=dict)
    """Everything, by name, in the order of the file."""
    places: Mapping[str, AlikePlaces] = field(default_factory=dict)
    """Alike places, by what one of them is called."""
    kits: Mapping[str, Kit] = field(default_factory=dict)
    """Kits that the file describes, by what things have as their kit."""
    stacks: tuple[Stack, ...] = ()
    """What lies on what."""
    together: tuple[tuple[Ref, ...], ...] = ()
    """Sets that are renewed only together."""
    access_after: tuple[tuple[Ref, tuple[Ref, ...]], ...] = ()
    """Each thing that is reached only when others are off."""
    verb_needs: Mapping[str, tuple[Need, ...]] = field(default_factory=dict)
    """What a verb needs first: run, …"""
    verb_results: Mapping[str, tuple[Need, ...]] = field(default_factory=dict)
    """Positions that a verb leaves controls in: run, …"""
    can_start: tuple[tuple[Need, ...], ...] = ()
    """The ways in which it can start: while all of one is so, somebody or something can start it."""
    tag_refs: tuple[Ref, ...] = ()
    """Every tag used."""

    def __post_init__(self) -> None:
        """Shut what could be written into."""
        seal(self, "options", "things", "places", "kits", "verb_needs", "verb_results")

    def places_of(self, thing: AnyThing | None) -> tuple[str, ...]:
        """Return the names of the places for which a thing is there, once for each; none for one that is there once."""
        places = self.places.get(thing.each.name) if thing and thing.each else None
        return places.names if places else ()
