"""What a fastener of a machine is screwed into, and the state of its thread while it is tightened."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from putback.joints.friction import Condition, Film
from putback.joints.members import Material, MaterialError, read_material
from putback.joints.preload import Joint
from putback.joints.wrench import Use, WrenchError, dial, usable, wrench_of
from putback.model.library import Library, Tool
from putback.model.machine import AnyThing, Fastener, Machine, Part
from putback.model.terms import Ref
from putback.units import Quantity, si

SEALING = frozenset({"plug", "cap", "sensor", "spark plug", "bleed screw"})
"""Kinds that seal and hold nothing together."""


def joint_of(thing: Fastener, machine: Machine, library: Library) -> Joint | None:
    """Return what is known of a fastener's joint; None for a thread that is not judged."""
    if thing.screw is None:
        return None
    engaged = si(thing.engagement)[0] if thing.engagement else None
    return Joint(
        thing.screw,
        thing.strength,
        condition_of(thing, library),
        _material(thing, machine),
        None if engaged is None else engaged * 1000,
        insert=thing.insert is not None,
        seals=thing.kind in SEALING,
    )


def condition_of(thing: Fastener, library: Library) -> Condition:
    """Return the thread condition that is stated, or else the one that the compound makes."""
    film = thing.condition.film
    compound = library.consumables.get(thing.compound.name) if thing.compound else None
    if compound is not None and compound.threads is not None and film in (None, Film.DRY):
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
        if held is not None and held.key != thing.key:
            yield held


def holding_tool(held: AnyThing, turned: Fastener, library: Library, tools: Sequence[Ref] = ()) -> Tool | None:
    """Return the tool that holds a fastener while another is turned: one that the step names, or the last that fits.

    It is not the one that turns; None when no other is listed.
    """
    if not isinstance(held, Fastener) or held.drive is None:
        return None
    named = [library.tools[ref.name] for ref in tools if ref.name in library.tools]
    fitting = [each for each in (*library.tools.values(), *reversed(named)) if held.drive in each.drives]
    turning = turning_tool(turned, library)
    return next((each for each in reversed(fitting) if each.extends is None and each is not turning), None)


def turning_tool(thing: Fastener, library: Library) -> Tool | None:
    """Return the tool that turns a fastener: its own, or else the first that fits its drive."""
    if thing.tool is not None and thing.tool.name in library.tools:
        return library.tools[thing.tool.name]
    fitting = (each for each in library.tools.values() if each.extends is None and thing.drive in each.drives)
    return next(fitting, None) if thing.drive else None


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
            setting = dial(torque, float(lever), float(extends), float(angle), tool.step)
        except WrenchError:
            continue
        use = usable(wrench, setting)
        if use is not Use.OUT:
            found.append((use is Use.LOWEST_FIFTH, wrench.high, Dial(tool, through, float(angle), setting)))
    return min(found, key=lambda each: each[:2])[2] if found else None
