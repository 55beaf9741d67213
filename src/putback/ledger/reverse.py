"""The way back of a block: what `undo` stands for.

"Assembly is the reverse of removal", written out: last off is first on. Three things do not simply run backwards, and
are put where a mechanic does them: a part is aligned as soon as it is on, before its fasteners are tight; a fastener
goes in with its compound and is brought to its torque; a fluid is filled once its drains are shut, or, when it goes in
through a drain, before that one is closed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from putback.model import job as j
from putback.model.job import Action, Block, Step, Verb
from putback.model.machine import Control, Fastener, Fluid, Line, Machine, Part
from putback.model.terms import Ref, When, both


@dataclass(frozen=True, slots=True)
class WayBack:
    """The reverse of a block."""

    steps: tuple[Step, ...]
    """What is done; each step has the place of the one it reverses."""
    stuck: tuple[Step, ...]
    """Steps of the block that cannot be undone."""


def reverse(block: Block, machine: Machine, blocks: Mapping[str, Block] | None = None) -> WayBack:
    """Return the exact reverse of a block on a machine.

    What changes nothing (a measurement, a cleaning, a caution) has no reverse and is left out. With `blocks`, those
    that the block does are written out first: the way back of the whole can differ from the ways back of its parts.
    """
    stuck: list[Step] = []
    forth = list(_written_out(block, machine, blocks or {}, frozenset({block.key}), stuck))
    writer = _Writer(machine, forth, {ref.name for ref in block.opens})
    back: list[Step] = []
    for step in reversed(forth):
        back += writer.reversed(step)
    for step in writer.spilt():
        back.append(step)
    return WayBack(tuple(_fills_in_place(back, machine)), (*stuck, *writer.stuck))


def _written_out(
    block: Block, machine: Machine, blocks: Mapping[str, Block], doing: frozenset[str], stuck: list[Step]
) -> Iterator[Step]:
    for section in block.sections:
        for step in section.steps:
            when = both(section.when, step.when)
            if not isinstance(step.action, j.Do | j.Undo) or any(ref.name not in blocks for ref in step.things):
                yield replace(step, when=when)
                continue
            undo = isinstance(step.action, j.Undo)
            for ref in reversed(step.things) if undo else step.things:
                if ref.name in doing:
                    continue  # told by `bad-cycle`
                inner = blocks[ref.name]
                if undo:
                    back = reverse(inner, machine, {key: blocks[key] for key in blocks if key not in doing})
                    steps: Iterable[Step] = back.steps
                    stuck += back.stuck
                else:
                    steps = _written_out(inner, machine, blocks, doing | {ref.name}, stuck)
                for each in steps:
                    yield replace(each, when=both(when, each.when))


class _Writer:
    def __init__(self, machine: Machine, forth: list[Step], opened: set[str]) -> None:
        self.machine = machine
        self.opened = opened
        self.forth = forth
        self.place = {id(step): number for number, step in enumerate(forth)}
        self.naming: dict[str, list[Step]] = {}
        for step in forth:
            for name in dict.fromkeys(ref.name for ref in step.things):
                self.naming.setdefault(name, []).append(step)
        self.filled = {ref.name for step in forth if step.verb is Verb.FILL for ref in step.things}
        self.stuck: list[Step] = []

    def reversed(self, step: Step) -> Iterator[Step]:
        """Yield the steps that undo one."""
        if any(inner.verb in _CHANGING for inner in j.walk(step.otherwise)):
            self.stuck.append(step)
            return
        things = tuple(reversed(step.things))
        match step.action:
            case j.Remove(count=count, at=at):
                for ref in things:
                    yield from self.put_in(step, ref, self.rest(step, ref) if count is None else count, at)
            case j.Install(count=count, at=at):
                yield _made(step, Verb.REMOVE, j.Remove(things, count, at))
            case j.Loosen(count=count, at=at):
                left = tuple(ref for ref in things if not self.goes_with(Verb.REMOVE, step, ref))
                if left:
                    yield _made(step, Verb.TIGHTEN, j.Tighten(left, count, at=at))
            case j.Tighten(count=count, at=at):
                left = tuple(ref for ref in things if not self.goes_with(Verb.INSTALL, step, ref))
                if left:
                    yield _made(step, Verb.LOOSEN, j.Loosen(left, count, at))
            case j.Disconnect(at=at):
                yield _made(step, Verb.CONNECT, j.Connect(things, at))
                for ref in things:
                    line = self.machine.things.get(ref.name)
                    if isinstance(line, Line) and line.adjustable:
                        yield _made(step, Verb.ALIGN, j.Align((ref,)))
            case j.Connect(at=at):
                yield _made(step, Verb.DISCONNECT, j.Disconnect(things, at))
            case j.Drain(volume=volume):
                for ref in things:
                    if ref.name in self.filled or not self.openings(ref.name):
                        yield _made(step, Verb.FILL, j.Fill((ref,), volume))
            case j.Fill(volume=volume):
                yield _made(step, Verb.DRAIN, j.Drain(things, volume))
            case j.Set():
                yield from self.set_back(step)
            case j.Place():
                yield _made(step, Verb.CLEAR, j.Clear(things))
            case j.Clear():
                yield _made(step, Verb.PLACE, j.Place(things))
            case j.Do():
                yield _made(step, Verb.UNDO, j.Undo(things))
            case j.Undo():
                yield _made(step, Verb.DO, j.Do(things))
            case j.Replace() | j.Again():
                self.stuck.append(step)
            case _:
                return

    def earlier(self, step: Step, ref: Ref) -> Iterator[Step]:
        """Yield the steps of the block that name a thing before a step does."""
        for other in self.naming.get(ref.name, ()):
            if self.place[id(other)] < self.place[id(step)]:
                yield other

    def counted_before(self, step: Step, ref: Ref) -> int:
        """Return how many of a group earlier steps of the block took out by count."""
        return sum(
            earlier.action.count or 0 for earlier in self.earlier(step, ref) if isinstance(earlier.action, j.Remove)
        )

    def rest(self, step: Step, ref: Ref) -> int | None:
        """Return how many a step without a count took out, when not all were in any more."""
        thing = self.machine.things.get(ref.name)
        before = self.counted_before(step, ref) if isinstance(thing, Fastener) else 0
        return thing.count - before if isinstance(thing, Fastener) and 0 < before < thing.count else None

    def goes_with(self, verb: Verb, step: Step, ref: Ref) -> bool:
        """Tell whether the reverse of another step undoes this one as well: all of the group is taken out or put in.

        It must do so wherever this one happens.
        """
        return any(
            other.verb is verb
            and (other.when is None or _cases(other.when) == _cases(step.when))
            and self.whole_group(other, ref)
            for other in self.naming.get(ref.name, ())
        )

    def whole_group(self, step: Step, ref: Ref) -> bool:
        """Tell whether the whole group is out after a step that takes some out; true of what puts some in."""
        thing = self.machine.things.get(ref.name)
        count = step.action.count if isinstance(step.action, j.Remove) else None
        if not isinstance(thing, Fastener) or count is None:
            return True
        return self.counted_before(step, ref) + count >= thing.count

    def put_in(self, step: Step, ref: Ref, count: int | None, at: tuple[Ref, ...] = ()) -> Iterator[Step]:
        thing = self.machine.things.get(ref.name)
        new = isinstance(thing, Part | Fastener) and thing.single_use
        turn = Ref(thing.turns, ref.span) if isinstance(thing, Part) and thing.turns else None
        if isinstance(thing, Fastener) and thing.compound:
            compound = Ref(thing.compound.name, ref.span)
            yield _made(step, Verb.APPLY, j.Apply((compound,), (ref,)))
        yield _made(step, Verb.INSTALL, j.Install((ref,), count, new, turn, at))
        if isinstance(thing, Fastener) and thing.turned:
            yield _made(step, Verb.TIGHTEN, j.Tighten((ref,), count, at=at))
        if isinstance(thing, Part) and thing.adjustable:
            yield _made(step, Verb.ALIGN, j.Align((ref,)))

    def set_back(self, step: Step) -> Iterator[Step]:
        """Return a control to the position that it had before: as the block set it, or else its rest position.

        A step that leaves it where it was ("make sure that it is closed") has nothing to be undone.
        """
        for ref in step.things:
            control = self.machine.things.get(ref.name)
            if not isinstance(control, Control) or control.free:
                continue
            position, sure = control.rest.name, ref.name not in self.opened
            for earlier in self.earlier(step, ref):
                if isinstance(earlier.action, j.Set):
                    position = earlier.action.to.name
                    sure = sure and earlier.when is None
            if isinstance(step.action, j.Set) and step.action.to.name == position and sure:
                continue
            yield _made(step, Verb.SET, j.Set((ref,), Ref(position, ref.span)))

    def spilt(self) -> Iterator[Step]:
        """Yield fills for fluids that ran out of an opened drain; a `drain` step only says so."""
        for key in self.machine.things:
            if key in self.filled:
                continue
            said = next((step for step in self.naming.get(key, ()) if isinstance(step.action, j.Drain)), None)
            for opening, when in self.openings(key):
                source = said or opening
                volume = said.action.volume if said and isinstance(said.action, j.Drain) else None
                ref = next((ref for ref in source.things if ref.name == key), Ref(key, opening.things[0].span))
                yield replace(_made(source, Verb.FILL, j.Fill((ref,), volume)), when=when)

    def openings(self, key: str) -> list[tuple[Step, When | None]]:
        """Return the steps that let a fluid out, one for each condition under which that happens."""
        fluid = self.machine.things.get(key)
        found: dict[str, tuple[Step, When | None]] = {}
        for drain in fluid.drains if isinstance(fluid, Fluid) else ():
            thing = self.machine.things.get(drain.name)
            for step in self.naming.get(drain.name, ()):
                if thing and _opens(step, drain, self.machine):
                    when = both(step.when, thing.when)
                    found.setdefault(str(_cases(when)), (step, when))
        if found:
            # Where a step lets out what no drain of that variant holds, it is filled again as well.
            for step in self.naming.get(key, ()):
                if isinstance(step.action, j.Drain):
                    found.setdefault(str(_cases(step.when)), (step, step.when))
        always = found.get(str(None))
        return [always] if always else list(found.values())


_CHANGING = {
    Verb.REMOVE, Verb.INSTALL, Verb.REPLACE, Verb.LOOSEN, Verb.TIGHTEN, Verb.DISCONNECT, Verb.CONNECT, Verb.DRAIN,
    Verb.FILL, Verb.SET, Verb.PLACE, Verb.CLEAR, Verb.DO, Verb.UNDO,
}  # fmt: skip


def _opens(step: Step, ref: Ref, machine: Machine) -> bool:
    match step.action:
        case j.Remove() | j.Disconnect():
            return True
        case j.Set(to=to):
            control = machine.things.get(ref.name)
            return isinstance(control, Control) and to.name != control.rest.name
        case _:
            return False


def _cases(when: When | None) -> list[list[tuple[str, list[str]]]] | None:
    """Return a condition without its place, to be compared."""
    if when is None:
        return None
    return [[(clause.option.name, [ref.name for ref in clause.choices]) for clause in case] for case in when.cases]


def _made(step: Step, verb: Verb, action: Action) -> Step:
    """A step that reverses another: at its place, in its variants. What pulls a thing off does not put it on."""
    return Step(verb=verb, action=action, key=step.key, span=step.span, when=step.when)


def _fills_in_place(back: list[Step], machine: Machine) -> list[Step]:
    """Move each fill behind the step that shuts the last of its drains, or before the one it is filled through."""
    result = list(back)
    for step in back:
        if not isinstance(step.action, j.Fill):
            continue
        fluid = machine.things.get(step.things[0].name)
        if not isinstance(fluid, Fluid):
            continue
        drains, through = {ref.name for ref in fluid.drains}, {ref.name for ref in fluid.fills}
        result.remove(step)
        shut = [
            index
            for index, other in enumerate(result)
            if other.verb in _SHUTTING and any(ref.name in drains - through for ref in other.things)
        ]
        filled_through = [
            index
            for index, other in enumerate(result)
            if other.verb in _SHUTTING and any(ref.name in drains & through for ref in other.things)
        ]
        place = shut[-1] + 1 if shut else filled_through[0] if filled_through else back.index(step)
        result.insert(place, step)
    return result


_SHUTTING = {Verb.INSTALL, Verb.TIGHTEN, Verb.CONNECT, Verb.SET}
