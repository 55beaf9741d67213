"""With what a fastener is turned and held, and what is set on the wrench."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from putback.joints.wrench import Use, WrenchError, added, dial, usable, wrench_of
from putback.model.library import Library, Tool
from putback.model.machine import AnyThing, Fastener, Line, Part
from putback.model.said import source_of
from putback.model.terms import Ref
from putback.units import Quantity

_HANDLED = ("spanner", "wrench", "driver", "key")
"""In the names of tools that have a handle."""


def set_to(thing: Fastener, torque: Quantity) -> Quantity:
    """Return what a torque wrench must show: the torque, and what it takes to turn a self-locking nut by itself."""
    if thing.running_torque is None:
        return torque
    return added(torque, thing.running_torque)


def held_with(thing: Fastener, machine: Mapping[str, AnyThing], *, comes_out: bool = False) -> Iterator[AnyThing]:
    """Yield what is held while a fastener is turned: the other of its joint, and, while it stays in, what it locks."""
    names = [thing.counterhold] if thing.counterhold else []
    for ref in (*names, *(() if comes_out else thing.locks)):
        held = machine.get(ref.name)
        if isinstance(held, Part | Fastener | Line) and held.key != thing.key:
            yield held


def held_at(
    things: Sequence[Ref], machine: Mapping[str, AnyThing], *, comes_out: bool
) -> Iterator[tuple[Fastener, AnyThing]]:
    """Yield what is held while fasteners that a step names are turned, each with the fastener that is turned."""
    for ref in things:
        thing = machine.get(ref.name)
        if isinstance(thing, Fastener):
            for held in held_with(thing, machine, comes_out=comes_out):
                yield thing, held


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
    return None if found and is_locked(thing, nut) and on_a_square(found) and not own else found


def is_locked(held: AnyThing, turned: Fastener) -> bool:
    """Tell whether what is held is locked by the fastener that is turned: it sits inside that."""
    return held.key in {ref.name for ref in turned.locks}


def hand_tool(drive: str, library: Library, tools: Sequence[Ref] = (), *, but: Tool | None = None) -> Tool | None:
    """Return the tool that fits a drive and is held in the hand: one that a step names, or the last with a handle."""
    named = [library.tools[ref.name] for ref in tools if ref.name in library.tools]
    fitting = [
        each
        for each in (*library.tools.values(), *reversed(named))
        if each.turns(drive) and each.extends is None and each is not but
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
    fitting = [each for each in library.tools.values() if each.extends is None and each.turns(drive)]
    fitting.sort(key=lambda each: torqued and _in_hand(each))
    return fitting[0] if fitting else None


def _in_hand(tool: Tool) -> bool:
    """Tell whether a tool has a handle of its own, by its name: a spanner, a screwdriver, and no socket or bit."""
    return any(word in source_of(tool.name).lower() for word in _HANDLED) and not on_a_square(tool)


def on_a_square(tool: Tool) -> bool:
    """Tell whether a tool sits on the square of a wrench, by its name."""
    return any(word in source_of(tool.name).lower() for word in ("socket", "bit"))


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
