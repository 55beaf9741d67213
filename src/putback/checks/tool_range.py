"""No listed torque wrench covers the torque.

Below its scale a wrench does not click; above it, the wrench breaks or is forced.

List a wrench with the right range in tools.yaml, or name another one at the step. If the number is wrong, correct it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.wrench import Use, Wrench, usable, wrench_of
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.fastened import tears
from putback.model.job import Step
from putback.model.library import Library, Tool
from putback.model.machine import Fastener
from putback.model.terms import Ref
from putback.model.turned import dial_of, set_to
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.units import Quantity, least, most, show

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  hub-nut:
    class: "8.8"
    thread: M20 x 1.5
    torque: 320 N·m
            ^^^^^^^ no listed torque wrench covers 320 N·m: torque wrench has a range of 10 to 120 N·m
# tools.yaml
torque-wrench: {range: 10 N·m .. 120 N·m}
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  hub-nut: {kind: nut, thread: M20 x 1.5, torque: 320 N·m, class: "8"}
# tools.yaml
torque-wrench: {range: 10 N·m .. 120 N·m}
large-torque-wrench: {range: 80 N·m .. 400 N·m}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques that no wrench shows, or not the one that the step names; nothing where no wrench is listed."""
    library, machine = opened.guide.library, opened.guide.machine
    wrenches = wrenches_of(library)
    if not wrenches or machine is None or "tool" in library.broken:
        return
    for thing in machine.things.values():
        torque = thing.last_torque if isinstance(thing, Fastener) else None
        if isinstance(thing, Fastener) and torque and tears(thing, torque, machine, library):
            continue  # torque-unlikely tells it
        if isinstance(thing, Fastener) and torque and thing.torque_span and not _shown(wrenches, set_to(thing, torque)):
            message = f"no listed torque wrench covers {torque.text}: {_nearest(library, torque)}"
            yield Fault(thing.torque_span, message, hint="list one that does, in tools.yaml")
        if isinstance(thing, Fastener) and torque and thing.tool:
            yield from _through(thing, torque, thing.tool, library)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if isinstance(step.action, Tighten):
                yield from _named(step, step.action, opened)


def _through(thing: Fastener, torque: Quantity, name: Ref, library: Library) -> Iterator[Fault]:
    """Yield a fault for a crowfoot or an extension with which no wrench shows what must be set."""
    tool = library.tools.get(name.name)
    if tool is not None and tool.extends is not None and dial_of(thing, torque, library) is None:
        message = f"no listed torque wrench covers what must be set for {torque.text} with {tool.name}"
        yield Fault(name.span, message, (Also(tool.span, "it changes the lever"),), "give the wrench its 'lever'")


def _named(step: Step, action: Tighten, opened: Opened) -> Iterator[Fault]:
    """Yield torque wrenches that a step names and that do not show its torque."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    tools = opened.guide.library.tools
    for ref in step.things:
        thing = things.get(ref.name)
        if not isinstance(thing, Fastener):
            continue
        torque = action.shown(thing)
        for name in step.tools:
            tool = tools.get(name.name)
            if torque and tool and tool.range and not _shown([wrench_of(tool.key, tool.range)], set_to(thing, torque)):
                message = f"{tool.name} does not cover {torque.text} for {named(thing)}: its range is {_range(tool)}"
                yield Fault(name.span, message, (Also(tool.span, "the wrench"),))


def wrenches_of(library: Library) -> list[Wrench]:
    """Return the torque wrenches of a library."""
    return [wrench_of(tool.key, tool.range) for tool in _tools(library) if tool.range]


def _tools(library: Library) -> list[Tool]:
    return [tool for tool in library.tools.values() if tool.range]


def _shown(wrenches: list[Wrench], torque: Quantity) -> bool:
    return any(usable(wrench, torque) is not Use.OUT for wrench in wrenches)


def _nearest(library: Library, torque: Quantity) -> str:
    """Return the range of the wrench that comes nearest to a torque."""
    low = least(torque) or most(torque)

    def away(tool: Tool) -> float:
        assert tool.range is not None
        return max(least(tool.range) - low, low - most(tool.range))

    tool = min(_tools(library), key=away)
    return f"{tool.name} has a range of {_range(tool)}"


def _range(tool: Tool) -> str:
    return show(tool.range).replace("–", " to ").replace("\u00a0", " ") if tool.range else ""
