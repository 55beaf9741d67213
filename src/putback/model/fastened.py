"""What a fastener of a machine is screwed into, and the state of its thread while it is tightened."""

from __future__ import annotations

from functools import lru_cache

from putback.joints import sized
from putback.joints.drives import read_drive, suits, threads_of
from putback.joints.friction import Condition, Film
from putback.joints.joint import Joint
from putback.joints.members import Material, MaterialError, read_material
from putback.joints.preload import Wrong, judge
from putback.model.library import Library
from putback.model.machine import Fastener, Machine, Part
from putback.model.said import source_of
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
    return _kind(thing.kind or "", thing.key, source_of(thing.name))


@lru_cache(maxsize=4096)
def _kind(kind: str, key: str, name: str) -> str:
    names = [f" {_plain(each).removesuffix('s')}" for each in (key, name)]
    kind = _plain(kind)
    kind = kind if kind in _KINDS else kind.removesuffix("s")
    told = [each for each in _BY_NAME for said in names if said.endswith(f" {each}") and each.endswith(kind)]
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
