"""Setting controls, and running the machine."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Control, Machine
from putback.model.reading import Reader
from putback.model.states import ControlState, State, of
from putback.model.terms import Ref, likely
from putback.model.verb import Action, Change, Mention, Verb, WayForth
from putback.model.verbs.asking import proved
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


class Set(NamedTuple):
    """Bring a control to a position."""

    things: tuple[Ref, ...]
    to: Ref


class Run(NamedTuple):
    """Run the machine."""

    things: tuple[Ref, ...]
    at: str | None = None
    for_: Quantity | None = None
    proves: tuple[Ref, ...] = ()


def moved(state: State, position: str, control: Control, by: int) -> ControlState:
    """Return a control in a position that an entry brought it to."""
    old = of(ControlState, state)
    leaves = old.position == control.normal.name != position
    return ControlState(position, by if leaves else old.off_by, by)


def _set(action: Set, thing: AnyThing | None, by: int) -> Change | None:
    if not isinstance(thing, Control):
        return None
    positions = [ref.name for ref in thing.positions]
    position = likely(action.to, positions).name
    if position not in positions:
        return None
    return lambda state: moved(state, position, thing, by)


def _position(action: Set, machine: Machine | None) -> Iterator[Mention]:
    control = machine.things.get(action.things[0].name) if machine and len(action.things) == 1 else None
    if isinstance(control, Control):
        positions = tuple(ref.name for ref in control.positions)
        yield Mention(action.to, ("position",), f"{control.key} has no position", known=positions)


def _set_back(action: Set, forth: WayForth) -> Iterator[Action]:
    """Return a control to the position that it had before.

    A step that leaves it where it was ("make sure that it is closed") has nothing to be reversed.
    """
    for ref in action.things:
        control = forth.machine.things.get(ref.name)
        if not isinstance(control, Control) or control.any_at_end:
            continue
        position, sure = forth.position_before(ref)
        if action.to.name != position or not sure:
            yield Set((ref,), Ref(position, ref.span))


def _read_set(reader: Reader, value: Node, node: Mapping) -> Set:
    return Set(reader.refs(value), reader.ref(node.get("to")) or Ref("", value.span))


def _read_run(reader: Reader, value: Node, node: Mapping) -> Run:
    return Run(
        reader.refs(value),
        reader.rate(node.get("at")),
        reader.quantity(node.get("for"), Kind.TIME),
        reader.refs(node.get("proves")),
    )


SET = Verb(
    name="set",
    arguments=Set,
    read=_read_set,
    takes=("control",),
    better={"setting": "adjust"},
    other_words=("close", "move", "open", "press", "shift", "switch", "switch-off", "switch-on"),
    loose_words=("disengage", "engage", "isolate", "select", "shut", "shut-off", "turn-off", "turn-on"),
    mentions=_position,
    lets_out=True,
    shuts=True,
    effect=_set,
    back=_set_back,
    way_back="Set the control back to its position before this step.",
)

RUN = Verb(
    name="run",
    arguments=Run,
    read=_read_run,
    words=True,
    other_words=("crank", "idle", "operate", "start"),
    loose_words=("fire-up", "rev", "start-up", "warm-up"),
    mentions=proved,
    proves=True,
)
