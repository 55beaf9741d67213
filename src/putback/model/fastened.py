"""What a fastener of a machine is screwed into, and the state of its thread while it is tightened."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from putback.joints import sized
from putback.joints.drives import read_drive, suits, threads_of
from putback.joints.friction import Condition, Film
from putback.joints.joint import Joint
from putback.joints.members import Material, MaterialError, read_material
from putback.joints.preload import Wrong, judge
from putback.joints.wrench import Use, WrenchError, added, dial, usable, wrench_of
from putback.model.library import Library, Tool
from putback.model.machine import AnyThing, Fastener, Line, Machine, Part
from putback.model.terms import Ref
from putback.source.late import Late
from putback.source.nearest import distance, nearest
from putback.units import Quantity, digits, si

SEALING = frozenset({
    "plug", "cap", "sensor", "spark plug", "glow plug", "drain plug", "filler plug", "level plug", "bleed screw",
    "bleeder", "banjo bolt", "hollow bolt", "union bolt", "union nut", "flare nut", "tube nut", "pipe nut", "fitting",
    "union", "adapter", "switch", "temperature sensor", "oxygen sensor", "pressure switch", "drain cock",
    "grease nipple", "filter", "oil filter", "fuel filter", "drain bolt", "drain screw", "sender", "o2 sensor",
    "lambda sensor", "nozzle holder", "nozzle holder assembly", "bleeder screw", "bleed nipple", "hose bolt",
    "pipe retaining nut", "valve holder", "injector", "bleed valve", "bleeder valve", "decompression valve",
})  # fmt: skip
"""Kinds that seal and hold nothing together."""
HOLLOW = frozenset({"banjo bolt", "hollow bolt", "union bolt", "hose bolt"})
"""Those of them that are bolts, of bolt steel."""
LIGHT = frozenset({
    "stud", "adjuster", "adjusting screw", "adjusting bolt", "adjusting nut", "stop screw", "terminal bolt",
    "terminal nut", "terminal screw", "terminal stud", "battery terminal",
})  # fmt: skip
"""Kinds that are turned in lightly: what is tightened on them later does the holding, or they sit in soft metal."""
LOCKING = frozenset({"lock nut", "jam nut", "check nut", "castle nut", "slotted nut"})
"""Kinds that hold by something else beside their preload."""
SHAFT = frozenset({
    "axle nut", "hub nut", "wheel hub nut", "propeller nut", "prop nut", "pulley nut", "flywheel nut", "pinion nut",
    "bearing nut", "spindle nut", "shaft nut", "sprocket nut", "impeller nut", "rotor nut", "arbor nut", "fan nut",
    "lock ring", "pivot", "pivot bolt", "pivot nut", "hinge bolt", "steering wheel nut",
})  # fmt: skip
"""Kinds on the end of a shaft, or a pivot: a taper, a bearing or the play limits their torque, and not the thread."""
_BY_NAME = tuple(
    kind
    for kind in sorted(SEALING | LIGHT | LOCKING | SHAFT)
    if len(kind.split()) > 1
    or kind in ("plug", "bleeder", "filter", "stud", "adjuster", "sensor", "sender", "switch", "injector")
)
"""Those that a name tells as well as a kind; a bearing cap is a cap that seals nothing."""
_ONE_WORD = Late(r"\b(lock|jam|check|castle|axle|hub|flywheel|pinion|union|flare|tube)(nut|ring)(?=s?\b)")
"""Kinds that the trade writes as one word as well: locknut."""
_PLACE = Late(
    r"(?: (?:[a-z]|no|number|[0-9]+|front|rear|left|right|upper|lower|inner|outer|top|bottom|fore|aft|port|"
    r"starboard))+$"
)
"""What the end of a name says of the place: drain plug 2, banjo bolts front."""


def kind_of(thing: Fastener) -> str:
    """Return the kind of a fastener, in lower case, or what its name says more exactly: a nut that is a union nut.

    Empty when neither says anything of it.
    """
    names = [f" {_plain(name).removesuffix('s')}" for name in (thing.key, thing.name)]
    kind = _plain(thing.kind or "")
    kind = kind if kind in _KINDS else kind.removesuffix("s")
    told = [each for each in _BY_NAME for name in names if name.endswith(f" {each}") and each.endswith(kind)]
    return max(told, key=len, default=kind)


def _plain(name: str) -> str:
    """Return a name as kinds are written, without what it says of the place: `Lock-nuts front` is lock nuts."""
    return _PLACE.sub("", _ONE_WORD.sub(r"\1 \2", " ".join(name.replace("-", " ").lower().split())))


def is_sealing(thing: Fastener) -> bool:
    """Tell whether a fastener seals, and holds nothing together: a plug, or a hollow bolt, whatever it is called."""
    hollow = thing.bore is not None
    return (
        hollow or kind_of(thing) in SEALING or (isinstance(thing, Part) and not thing.secures and thing.grade is None)
    )


def joint_of(thing: Fastener, machine: Machine, library: Library) -> Joint | None:
    """Return what is known of a fastener's joint; None for a thread that is not judged."""
    if thing.screw is None:
        return None
    other = machine.things.get(thing.counterhold.name) if thing.counterhold else None
    bolt = other if thing.is_nut and isinstance(other, Fastener) else thing
    return Joint(
        thing.screw,
        _weaker(thing, other).strength if isinstance(other, Fastener) else thing.strength,
        condition_of(thing, library),
        _material(thing, machine),
        _mm(thing.engagement),
        insert=thing.insert,
        seals=is_sealing(thing),
        light=kind_of(thing) in LIGHT,
        shaft=kind_of(thing) in SHAFT,
        locks=kind_of(thing) in LOCKING or bool(thing.locks),
        thin=kind_of(thing) == "spark plug",
        hollow=kind_of(thing) in HOLLOW,
        bore=_mm(bolt.bore),
        shank=_mm(bolt.shank),
        length=_mm(bolt.length),
    )


def tears(thing: Fastener, torque: Quantity, machine: Machine | None, library: Library) -> bool:
    """Tell whether a torque is too much for a fastener whatever its friction is, and nothing confirms it."""
    joint, (low, high) = joint_of(thing, machine, library) if machine else None, si(torque)
    judged = judge((low, high), joint) if joint and low is not None and high is not None else None
    return judged is not None and judged.wrong is Wrong.HIGH and not thing.torque_confirmed


def _weaker(thing: Fastener, other: Fastener) -> Fastener:
    """Return which of a bolt and its nut says by its class how much their joint bears."""
    if thing.strength is None or other.strength is None or thing.screw is None:
        return thing if thing.strength else other
    size = thing.screw.diameter
    return other if other.strength.at(size).tensile < thing.strength.at(size).tensile else thing


def _mm(length: Quantity | None) -> float | None:
    """Return the least value of a length, mm."""
    metres = si(length)[0] if length else None
    return None if metres is None else metres * 1000


def band_of(thing: Fastener) -> sized.UsualBand | None:
    """Return the torques that are usual for a fastener whose strength is not known; None when nothing is known of it.

    It has a pipe thread, or no thread is stated, and its kind or its hexagon says what it is.
    """
    if thing.screw is not None:
        return sized.of_pipe(thing.screw)
    if thing.thread is not None:
        return None  # self-tapping, Whitworth
    drive = read_drive(thing.drive) if thing.drive else None
    band = sized.of_kind(kind_of(thing))
    if band is None and drive and drive.unit and (kind_of(thing) or "bolt") in BOLTS:
        band = sized.of_drive(drive)
    return band


BOLTS = LOCKING | frozenset(
    {"bolt", "screw", "nut", "stud", "cap screw", "self-locking nut", "flange bolt", "flange nut", "set screw"}
)
"""Kinds whose head or nut goes by the thread."""


_KINDS = SEALING | BOLTS | LIGHT | SHAFT | frozenset({
    "nail", "pin", "clip", "clamp", "washer", "rivet", "cotter pin", "split pin", "circlip", "snap ring", "hose clamp",
    "key", "strap", "tie", "latch", "hook", "retainer", "stopper", "seal", "cover", "set screw", "cap nut", "wing nut",
    "wing screw", "knob", "collar", "wire", "packing", "filter", "roll pin", "dowel", "spring", "bracket", "ring",
    "band",
})  # fmt: skip
"""Words that a kind may be without a slip; many others are right as well."""


_HANDLED = ("spanner", "wrench", "driver", "key")
"""In the names of tools that have a handle."""


def meant_kind(kind: str) -> str | None:
    """Return the kind that was probably meant by one with a slip: plug for plugg; None for what may be right.

    A letter is missing, too much, or has changed places; another letter makes another word.
    """
    said = kind.lower()
    if said in _KINDS or said.removesuffix("s") in _KINDS or len(said) < 4 or not said.isalpha():
        return None
    near = nearest(said, sorted(each for each in _KINDS if each.isalpha()))
    if near is None or said[0] != near[0] or distance(said, near) > 1:
        return None
    return near if len(near) != len(said) or sorted(near) == sorted(said) else None


def other_thread(thing: Fastener) -> str | None:
    """Return the thread that a hexagon is usual on, where it does not go with the one that is stated: M10."""
    drive = read_drive(thing.drive) if thing.drive else None
    if drive is None or drive.unit != "mm" or thing.screw is None or (kind_of(thing) or "bolt") not in BOLTS:
        return None
    usual = threads_of(drive)
    return f"M{digits(usual[0])}" if usual and not suits(drive, thing.screw) else None


def set_to(thing: Fastener, torque: Quantity) -> Quantity:
    """Return what a torque wrench must show: the torque, and what it takes to turn a self-locking nut by itself."""
    if thing.running_torque is None:
        return torque
    return added(torque, thing.running_torque)


def condition_of(thing: Fastener, library: Library) -> Condition:
    """Return the thread condition that is stated, or else the one that the compound makes."""
    film = thing.condition.film
    compound = library.consumables.get(thing.compound.name) if thing.compound else None
    if compound is not None and compound.threads is not None and film in (None, Film.DRY, Film.AS_RECEIVED):
        film = compound.threads
    return Condition(film, thing.condition.finish)


def _material(thing: Fastener, machine: Machine) -> Material | None:
    part = machine.things.get(thing.to.name) if thing.to else None
    if not isinstance(part, Part) or part.material is None:
        return None
    try:
        return read_material(part.material.name)
    except MaterialError:
        return None  # rubber, glass: nothing is known of threads in it


def held_with(thing: Fastener, machine: Mapping[str, AnyThing], *, comes_out: bool = False) -> Iterator[AnyThing]:
    """Yield what is held while a fastener is turned: the other of its joint, and, while it stays in, what it locks."""
    names = [thing.counterhold] if thing.counterhold else []
    for ref in (*names, *(() if comes_out else thing.locks)):
        held = machine.get(ref.name)
        if isinstance(held, Part | Fastener | Line) and held.key != thing.key:
            yield held


def holding_tool(held: AnyThing, turned: Fastener, library: Library, tools: Sequence[Ref] = ()) -> Tool | None:
    """Return the tool that holds a fastener while another is turned: one that the step names, or the last that fits.

    It is not the one that turns, and no socket on what sits inside the lock nut that is turned; None when no other is
    listed.
    """
    if not isinstance(held, Fastener) or held.drive is None:
        return None
    return adjusting_tool(held, turned, library, tools, but=turning_tool(turned, library))


def adjusting_tool(
    thing: Fastener, nut: Fastener, library: Library, tools: Sequence[Ref] = (), *, but: Tool | None = None
) -> Tool | None:
    """Return the tool that turns or holds a fastener in the hand, beside what locks it: one that a step names first."""
    found = hand_tool(thing.drive or "", library, tools, but=but)
    own = found is not None and found.key in {ref.name for ref in tools}
    return None if found and is_locked(thing, nut) and _on_a_square(found) and not own else found


def is_locked(held: AnyThing, turned: Fastener) -> bool:
    """Tell whether what is held is locked by the fastener that is turned: it sits inside that."""
    return held.key in {ref.name for ref in turned.locks}


def hand_tool(drive: str, library: Library, tools: Sequence[Ref] = (), *, but: Tool | None = None) -> Tool | None:
    """Return the tool that fits a drive and is held in the hand: one that a step names, or the last with a handle."""
    named = [library.tools[ref.name] for ref in tools if ref.name in library.tools]
    fitting = [
        each
        for each in (*library.tools.values(), *reversed(named))
        if drive in each.drives and each.extends is None and each is not but
    ]
    chosen = next((each for each in reversed(fitting) if each in named or _in_hand(each)), None)
    return chosen or (fitting[-1] if fitting else None)


def turning_tool(thing: Fastener, library: Library) -> Tool | None:
    """Return the tool that turns a fastener: its own, or else the one that fits its drive."""
    if thing.tool is not None and thing.tool.name in library.tools:
        return library.tools[thing.tool.name]
    return fitting_tool(thing.drive, library, torqued=thing.last_torque is not None) if thing.drive else None


def fitting_tool(drive: str, library: Library, *, torqued: bool) -> Tool | None:
    """Return the first tool that fits a drive; for a torque wrench, a socket or a bit goes before what has a handle."""
    fitting = [each for each in library.tools.values() if each.extends is None and drive in each.drives]
    fitting.sort(key=lambda each: torqued and _in_hand(each))
    return fitting[0] if fitting else None


def _in_hand(tool: Tool) -> bool:
    """Tell whether a tool has a handle of its own, by its name: a spanner, a screwdriver, and no socket or bit."""
    return any(word in tool.name.lower() for word in _HANDLED) and not _on_a_square(tool)


def _on_a_square(tool: Tool) -> bool:
    return any(word in tool.name.lower() for word in ("socket", "bit"))


@dataclass(frozen=True, slots=True)
class Dial:
    """What to set on a torque wrench that turns a fastener through a crowfoot or an extension."""

    wrench: Tool
    """The torque wrench."""
    through: Tool
    """The crowfoot or extension."""
    angle: float
    """The angle between the two, degrees; 0 in line."""
    setting: Quantity
    """What to set."""


def dial_of(thing: Fastener, torque: Quantity, library: Library, tools: Sequence[Ref] = ()) -> Dial | None:
    """Return what to set for a torque with the tool of a step, or else of the fastener.

    None when there is no such tool, or no wrench whose lever is known shows the setting. Of several wrenches it is the
    smallest that does not show it in its lowest fifth.
    """
    names = [*(ref.name for ref in tools), *([thing.tool.name] if thing.tool else [])]
    through = next((tool for name in names if (tool := library.tools.get(name)) and tool.extends), None)
    if through is None or through.extends is None:
        return None
    extends, angle = through.extends.to("mm").nominal, thing.wrench_angle.to("°").nominal if thing.wrench_angle else 0
    found: list[tuple[bool, float, Dial]] = []
    for tool in library.tools.values():
        lever = tool.lever.to("mm").nominal if tool.lever else None
        if tool.range is None or lever is None or extends is None or angle is None:
            continue
        wrench = wrench_of(tool.key, tool.range)
        try:
            setting = dial(set_to(thing, torque), float(lever), float(extends), float(angle), tool.step)
        except WrenchError:
            continue
        use = usable(wrench, setting)
        if use is not Use.OUT:
            found.append((use is Use.LOWEST_FIFTH, wrench.high, Dial(tool, through, float(angle), setting)))
    return min(found, key=lambda each: each[:2])[2] if found else None
