"""The way back of a block: what `reverse` stands for.

"Assembly is the reverse of removal", written out: last off is first on. Three things do not simply run backwards, and
are put where a mechanic does them: a part is aligned as soon as it is on, before its fasteners are tight; a fastener
goes in with its compound and is brought to its torque; a fluid is filled once its drains are shut, or, when it goes in
through a drain, before that one is closed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from putback.ledger.repeated import repeats
from putback.ledger.seats import to_clean_before
from putback.model.job import Block, Step, walk
from putback.model.machine import Control, Fastener, Fluid, Machine
from putback.model.terms import Ref, When, both
from putback.model.verb import Action
from putback.model.verbs import verb_of
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.cleaning import Apply
from putback.model.verbs.controls import Set
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.pieces import Loosen, Remove


@dataclass(frozen=True, slots=True)
class WayBack:
    """The reverse of a block."""

    steps: tuple[Step, ...]
    """What is done; each step has the place of the one it reverses."""
    stuck: tuple[Step, ...]
    """Steps of the block that cannot be reversed."""


def reverse(block: Block, machine: Machine, blocks: Mapping[str, Block] | None = None) -> WayBack:
    """Return the exact reverse of a block on a machine.

    What changes nothing (a measurement, a cleaning, a caution) has no reverse and is left out. With `blocks`, those
    that the block does are written out first: the way back of the whole can differ from the ways back of its parts.
    """
    stuck: list[Step] = []
    forth = list(_written_out(block, machine, blocks or {}, frozenset({block.key}), stuck))
    writer = _Reverser(machine, forth, {ref.name for ref in block.begins_with})
    back: list[Step] = []
    for step in reversed(forth):
        back += writer.reversed(step)
    for step in writer.spilt():
        back.append(step)
    return WayBack(tuple(_fills_in_place(list(_applied_once(back)), machine)), (*stuck, *writer.stuck))


def _applied_once(back: list[Step]) -> Iterator[Step]:
    """Leave out what goes on a group once more before its next pieces go in: it is on all that are out."""
    applied: set[tuple[str, ...]] = set()
    for step in back:
        if isinstance(step.action, Apply):
            what = (*(ref.name for ref in (*step.action.to, *step.things)), str(_cases(step.when)))
            if what in applied:
                continue
            applied.add(what)
        elif isinstance(step.action, Remove):
            applied = {what for what in applied if what[0] not in {ref.name for ref in step.things}}
        yield step


def _written_out(
    block: Block, machine: Machine, blocks: Mapping[str, Block], doing: frozenset[str], stuck: list[Step]
) -> Iterator[Step]:
    for section in block.sections:
        for step in section.steps:
            when = both(section.when, step.when)
            if not isinstance(step.action, Do | Reverse) or any(ref.name not in blocks for ref in step.things):
                yield replace(step, when=when)
                continue
            backwards = isinstance(step.action, Reverse)
            for ref in reversed(step.things) if backwards else step.things:
                if ref.name in doing:
                    continue  # told by `bad-cycle`
                inner = blocks[ref.name]
                if backwards:
                    back = reverse(inner, machine, {key: blocks[key] for key in blocks if key not in doing})
                    steps: Iterable[Step] = back.steps
                    stuck += back.stuck
                else:
                    steps = _written_out(inner, machine, blocks, doing | {ref.name}, stuck)
                for each in steps:
                    yield replace(each, when=both(when, each.when))


class _Reverser:
    def __init__(self, machine: Machine, forth: list[Step], opened: set[str]) -> None:
        self.machine = machine
        self.opened = opened
        self.forth = forth
        self.place = {id(step): number for number, step in enumerate(forth)}
        self.naming: dict[str, list[Step]] = {}
        for step in forth:
            for name in dict.fromkeys(ref.name for ref in step.things):
                self.naming.setdefault(name, []).append(step)
        self.filled = {ref.name for step in forth if isinstance(step.action, Fill) for ref in step.things}
        self.stuck: list[Step] = []

    def reversed(self, step: Step) -> Iterator[Step]:
        """Yield the steps that reverse one."""
        if step.verb.one_way or any(inner.verb.changes for inner in walk(step.inner)):
            self.stuck.append(step)
        elif step.verb.back:
            for action in step.verb.back(step.action, _At(self, step)):
                yield replace(_made(step, action), rounds=repeats(step, action, self.machine))

    def earlier(self, step: Step, ref: Ref) -> Iterator[Step]:
        """Yield the steps of the block that name a thing before a step does."""
        for other in self.naming.get(ref.name, ()):
            if self.place[id(other)] < self.place[id(step)]:
                yield other

    def counted_before(self, step: Step, ref: Ref) -> int:
        """Return how many of a group earlier steps of the block took out by count."""
        return sum(
            earlier.action.count or 0 for earlier in self.earlier(step, ref) if isinstance(earlier.action, Remove)
        )

    def rest(self, step: Step, ref: Ref) -> int | None:
        """Return how many a step without a count took out, when not all were in any more."""
        thing = self.machine.things.get(ref.name)
        before = self.counted_before(step, ref) if isinstance(thing, Fastener) else 0
        return thing.count - before if isinstance(thing, Fastener) and 0 < before < thing.count else None

    def goes_with(self, kind: type, step: Step, ref: Ref) -> bool:
        """Tell whether the reverse of another step reverses this one as well: all of the group is taken out or put in.

        It must do so wherever this one happens.
        """
        return any(
            isinstance(other.action, kind)
            and (other.when is None or _cases(other.when) == _cases(step.when))
            and self.whole_group(other, ref)
            for other in self.naming.get(ref.name, ())
        )

    def taken_out_before(self, step: Step, name: str) -> bool:
        """Tell whether an earlier step of the block took a thing off or out."""
        return any(isinstance(earlier.action, Remove) for earlier in self.earlier(step, Ref(name, step.key)))

    def done_again(self, kind: type, step: Step, ref: Ref) -> bool:
        """Tell whether a later step of a kind does the same to all of a group, wherever this one happens."""
        return any(
            isinstance(other.action, kind)
            and self.place[id(other)] > self.place[id(step)]
            and (other.when is None or _cases(other.when) == _cases(step.when))
            and getattr(other.action, "count", None) is None
            for other in self.naming.get(ref.name, ())
        )

    def whole_group(self, step: Step, ref: Ref) -> bool:
        """Tell whether the whole group is out after a step that takes some out; true of what puts some in."""
        thing = self.machine.things.get(ref.name)
        count = step.action.count if isinstance(step.action, Remove) else None
        if not isinstance(thing, Fastener) or count is None:
            return True
        return self.counted_before(step, ref) + count >= thing.count

    def position_before(self, step: Step, ref: Ref) -> tuple[str, bool]:
        """Return the position of a control before a step: as the block set it, or else its normal position."""
        control = self.machine.things[ref.name]
        assert isinstance(control, Control)
        position, sure = control.normal.name, ref.name not in self.opened
        for earlier in self.earlier(step, ref):
            if isinstance(earlier.action, Set):
                position = earlier.action.to.name
                sure = sure and earlier.when is None
        return position, sure

    def spilt(self) -> Iterator[Step]:
        """Yield fills for fluids that ran out of an opened drain; a `drain` step only says so."""
        for key in self.machine.things:
            if key in self.filled:
                continue
            said = next((step for step in self.naming.get(key, ()) if isinstance(step.action, Drain)), None)
            for opening, when in self.openings(key):
                source = said or opening
                volume = said.action.volume if said and isinstance(said.action, Drain) else None
                ref = next((ref for ref in source.things if ref.name == key), Ref(key, opening.things[0].span))
                yield replace(_made(source, Fill((ref,), volume)), when=when)

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
                if isinstance(step.action, Drain):
                    found.setdefault(str(_cases(step.when)), (step, step.when))
        always = found.get(str(None))
        return [always] if always else list(found.values())


@dataclass(frozen=True, slots=True)
class _At:
    """What one step may ask about its block."""

    writer: _Reverser
    step: Step

    @property
    def machine(self) -> Machine:
        return self.writer.machine

    def rest(self, ref: Ref) -> int | None:
        return self.writer.rest(self.step, ref)

    def undone_by_others(self, kind: type, ref: Ref) -> bool:
        return self.writer.goes_with(kind, self.step, ref)

    def taken_out_before(self, name: str) -> bool:
        return self.writer.taken_out_before(self.step, name)

    def to_clean_before(self, name: str) -> Iterable[str]:
        return to_clean_before(name, self.machine, self.writer.forth)

    def done_again(self, kind: type, ref: Ref) -> bool:
        return self.writer.done_again(kind, self.step, ref)

    def runs_out_here(self, ref: Ref) -> bool:
        return ref.name in self.writer.filled or not self.writer.openings(ref.name)

    def position_before(self, ref: Ref) -> tuple[str, bool]:
        return self.writer.position_before(self.step, ref)


def _opens(step: Step, ref: Ref, machine: Machine) -> bool:
    if isinstance(step.action, Set):
        control = machine.things.get(ref.name)
        return isinstance(control, Control) and step.action.to.name != control.normal.name
    thing = machine.things.get(ref.name)
    stays_in = isinstance(step.action, Loosen) and not (isinstance(thing, Fastener) and thing.releases_when_loose)
    return step.verb.lets_out and not step.verb.one_way and not stays_in


def _cases(when: When | None) -> list[list[tuple[str, list[str]]]] | None:
    """Return a condition without its place, to be compared."""
    if when is None:
        return None
    return [[(clause.option.name, [ref.name for ref in clause.choices]) for clause in case] for case in when.cases]


def _made(step: Step, action: Action) -> Step:
    """A step that reverses another: at its place, in its variants. What pulls a thing off does not put it on."""
    return Step(verb=verb_of(action), action=action, key=step.key, span=step.span, when=step.when)


def _fills_in_place(back: list[Step], machine: Machine) -> list[Step]:
    """Move each fill after the step that shuts the last of its drains, or before the one it is filled through."""
    result = list(back)
    for step in back:
        if not isinstance(step.action, Fill):
            continue
        fluid = machine.things.get(step.things[0].name)
        if not isinstance(fluid, Fluid):
            continue
        drains, through = {ref.name for ref in fluid.drains}, {ref.name for ref in fluid.fills}
        # A hose is shut when its clamps are tight.
        drains |= {
            key
            for key, thing in machine.things.items()
            if isinstance(thing, Fastener) and any(ref.name in drains - through for ref in thing.secures)
        } - through
        result.remove(step)
        shut = [
            index
            for index, other in enumerate(result)
            if other.verb.shuts and any(ref.name in drains - through for ref in other.things)
        ]
        filled_through = [
            index
            for index, other in enumerate(result)
            if other.verb.shuts and any(ref.name in drains & through for ref in other.things)
        ]
        place = shut[-1] + 1 if shut else filled_through[0] if filled_through else back.index(step)
        result.insert(place, step)
    return result
