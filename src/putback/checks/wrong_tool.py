"""A tool cannot do what the step asks of it.

A screwdriver has no square drive, so no torque wrench turns it: whoever uses it has to guess the torque. A socket over
a lock nut covers the adjuster inside, which has to be held, and the setting moves with the nut; and a socket does not
go on a union that a pipe runs through.

Name a bit, or a torque screwdriver. Give the lock nut a crowfoot, or a ring of that kind, as its `tool`: a screwdriver
or a key reaches past it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.job import Step
from putback.model.library import Library, Tool
from putback.model.machine import Fastener, Machine
from putback.model.setting import Setting
from putback.model.terms import Ref
from putback.model.turned import on_a_square, turning_tool
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Level

LEVEL = Level.WARNING
GROUP = Group.TOOLS
NEEDS = frozenset({"tool"})

FAILS = """
# machine.yaml
machine: Bench engine
fasteners:
  lock-nut: {locks: adjuster, kind: lock nut, drive: hex 13 mm, torque: 14 N·m}
                    ^^^^^^^^ 13 mm socket turns lock nut, but covers adjuster, which is held
  adjuster: {kind: screw, drive: slot 6 mm, no-torque: the clearance sets it}
# tools.yaml
torque-wrench: {range: 5 N·m .. 25 N·m, lever: 220 mm}
socket-13: {name: 13 mm socket, drives: hex 13 mm}
crowfoot-13: {name: 13 mm crowfoot, drives: hex 13 mm, extends: 40 mm}
screwdriver: {drives: slot 6 mm}
"""

PASSES = """
# machine.yaml
machine: Bench engine
fasteners:
  lock-nut: {kind: lock nut, drive: hex 13 mm, torque: 14 N·m, locks: adjuster, tool: crowfoot-13}
  adjuster: {kind: screw, drive: slot 6 mm, no-torque: the clearance sets it}
# tools.yaml
torque-wrench: {range: 5 N·m .. 25 N·m, lever: 220 mm}
socket-13: {name: 13 mm socket, drives: hex 13 mm}
crowfoot-13: {name: 13 mm crowfoot, drives: hex 13 mm, extends: 40 mm}
screwdriver: {drives: slot 6 mm}
"""

_INSIDE = ("slot", "cross", "inner", "hex key", "socket", "torx", "square key")
"""How the names of drives begin that sit within a bolt's end: who turns a nut over it must reach past the tool."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield sockets over an adjuster that must be held, and screwdrivers that should give a torque."""
    machine, library = opened.guide.machine, opened.guide.library
    if machine is None:
        return
    for nut in machine.things.values():
        if isinstance(nut, Fastener) and nut.last_torque is not None:
            yield from _over_adjuster(nut, machine, library)
            yield from _by_hand(nut, [nut.tool] if nut.tool else [], library)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if isinstance(step.action, Tighten):
                yield from _at_step(step, step.action, machine, library)


def _over_adjuster(nut: Fastener, machine: Machine, library: Library) -> Iterator[Fault]:
    tool = _socket(nut, library)
    for ref, message in _covered(nut, tool, machine) if tool else ():
        yield Fault(ref.span, message, hint=_hint(nut, library))


def _covered(nut: Fastener, tool: Tool, machine: Machine) -> Iterator[tuple[Ref, str]]:
    """Yield what a socket covers that is held meanwhile, with the message."""
    for ref in nut.locks:
        held = machine.things.get(ref.name)
        if isinstance(held, Fastener) and (held.drive or "").startswith(_INSIDE):
            be = verb_s(held, "is", "are")
            yield ref, f"{tool.name} turns {named(nut)}, but covers {named(held)}, which {be} held"


def _at_step(step: Step, action: Tighten, machine: Machine, library: Library) -> Iterator[Fault]:
    for ref in step.things:
        nut = machine.things.get(ref.name)
        if isinstance(nut, Fastener):
            yield from _named_over(nut, step, machine, library)
        if not isinstance(nut, Fastener) or action.shown(nut) is None:
            continue
        yield from _by_hand(nut, step.tools, library)
        yield from _over_pipe(nut, step.tools, library)
        tool = _socket(nut, library)
        if tool is None or nut.locks or not _adjusts(nut, machine):
            continue
        for name in step.tools:
            key = library.tools.get(name.name)
            if key and any(drive.startswith(_INSIDE) for drive in key.drives) and not key.turns(nut.drive):
                message = f"{tool.name} turns {named(nut)}, but {key.name} cannot reach past it"
                yield Fault(name.span, message, hint=_hint(nut, library))


def _named_over(nut: Fastener, step: Step, machine: Machine, library: Library) -> Iterator[Fault]:
    """Yield a socket that a step names for a lock nut over what is held with a key."""
    for name in step.tools:
        tool = library.tools.get(name.name)
        if tool and "socket" in tool.name.lower() and tool.turns(nut.drive):
            for _, message in _covered(nut, tool, machine):
                yield Fault(name.span, message, hint="name a tool that reaches past it")


def _by_hand(nut: Fastener, tools: tuple[Ref, ...] | list[Ref], library: Library) -> Iterator[Fault]:
    known = [(ref, library.tools[ref.name]) for ref in tools if ref.name in library.tools]
    if any(other.range or (other.turns(nut.drive) and on_a_square(other)) for _, other in known):
        return  # the screwdriver is for the rest
    for ref, tool in known:
        if "screwdriver" in tool.name.lower() and tool.turns(nut.drive):
            message = f"{tool.name} gives {named(nut)} no torque: it has no square drive for a torque wrench"
            yield Fault(ref.span, message, hint="name a bit instead")


def _over_pipe(nut: Fastener, tools: tuple[Ref, ...], library: Library) -> Iterator[Fault]:
    """Yield the sockets of a step for what the machine file turns through a crowfoot."""
    own = library.tools.get(nut.tool.name) if nut.tool else None
    for ref in tools if own and own.extends and not nut.locks else ():
        tool = library.tools.get(ref.name)
        if own and tool and not tool.extends and "socket" in tool.name.lower() and tool.turns(nut.drive):
            message = f"the {tool.name} does not go on {named(nut)}: the machine file has the {own.name} for it"
            yield Fault(ref.span, message, hint=f"delete it: the {own.name} is listed without it")


def _socket(nut: Fastener, library: Library) -> Tool | None:
    tool = turning_tool(nut, library)
    return tool if tool is not None and "socket" in tool.name.lower() else None


def _adjusts(nut: Fastener, machine: Machine) -> bool:
    settings = (each for each in machine.things.values() if isinstance(each, Setting))
    return any(ref.name == nut.key for each in settings for ref, _ in each.adjusted_by)


def _hint(nut: Fastener, library: Library) -> str | None:
    past = next((each.key for each in library.tools.values() if each.extends and each.turns(nut.drive)), None)
    return f"give {named(nut)} 'tool: {past}' in the machine file" if past else None
