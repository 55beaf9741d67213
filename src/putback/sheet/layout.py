"""What to lay out before a job: positions, parts, tools, consumables, aids, safety messages, protective equipment."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from putback.joints.wrench import fewest, wrench_of
from putback.ledger.opened import Opened
from putback.model.library import Hazard, SafetyMessage
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.terms import Ref, Signal, When, both
from putback.model.verbs.aids import Place
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.controls import Set
from putback.model.verbs.fluids import Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Caution
from putback.sheet.lines import Line as Written
from putback.sheet.lines import Passage
from putback.sheet.safety import hazards_of, wear_of
from putback.units import Quantity
from putback.variants import NONE


@dataclass(slots=True)
class NewPart:
    """A part or fastener to buy."""

    thing: Part | Fastener | Line
    """What it is."""
    count: int
    """How many."""
    conditional: bool
    """Whether it is needed only when an inspection says so."""
    when: When | None
    """The variants that need it; None for all."""


@dataclass(slots=True)
class Layout:
    """All that a job needs."""

    positions: list[tuple[Control, str]] = field(default_factory=list)
    """Controls that are set away from rest before the work begins, with that position."""
    parts: list[NewPart] = field(default_factory=list)
    """Parts and fasteners that go in new."""
    fluids: list[Fluid] = field(default_factory=list)
    """Fluids that are filled in."""
    tools: list[str] = field(default_factory=list)
    """Names of tools, those of steps and those that the fasteners ask for."""
    consumables: list[str] = field(default_factory=list)
    """Names of consumables."""
    aids: list[str] = field(default_factory=list)
    """Names of aids."""
    cautions: list[SafetyMessage] = field(default_factory=list)
    """Safety messages of the whole job, gravest first."""
    wear: list[str] = field(default_factory=list)
    """Protective equipment."""
    licensed: list[Hazard] = field(default_factory=list)
    """Hazards whose work a licensed professional must do or oversee."""


def lay_out(passages: Iterable[Passage], opened: Opened) -> Layout:
    """Return what the lines of a job need, each thing once, in the order in which the job calls for it."""
    gatherer = _Gatherer(opened)
    for index, passage in enumerate(passages):
        gatherer.opening = gatherer.opening and index == 0
        gatherer.within = passage.when
        for line in passage.walk():
            gatherer.take(line)
    return gatherer.done()


class _Gatherer:
    def __init__(self, opened: Opened) -> None:
        self.guide = guide = opened.guide
        self.things = guide.machine.things if guide.machine else {}
        self.found = Layout()
        self.drives: list[str] = []
        self.torques: list[Quantity] = []
        self.graph = opened.graph
        self.new: dict[tuple[str, bool], list[tuple[When | None, int]]] = {}
        self.opening = True
        self.within: When | None = None

    def take(self, line: Written) -> None:
        step = line.step
        verb = step.verb
        if verb.handles or verb.moves or (verb.proves and not verb.asks):
            # Now the work begins: what is set after it is no longer set first.
            self.opening = False
        library = self.guide.library
        self.oversee(hazards_of(step, self.things, library))
        for tool in step.tools:
            _add(self.found.tools, library.tools[tool.name].name if tool.name in library.tools else tool.name)
        for ref in step.things:
            thing = self.things.get(ref.name)
            if thing is not None:
                self.take_thing(line, thing)
        match step.action:
            case Apply(things=things):
                self.consumables(ref.name for ref in things)
            case Clean(with_=Ref() as means):
                self.consumables([means.name])
            case Place(things=things):
                for ref in things:
                    _add(self.found.aids, library.aids[ref.name].name if ref.name in library.aids else ref.name)
            case Lift(with_=Ref() as hoist) if hoist.name in library.aids:
                _add(self.found.aids, library.aids[hoist.name].name)
            case Caution(things=things):
                for ref in things:
                    message = library.cautions.get(ref.name)
                    if message is not None and message not in self.found.cautions:
                        self.found.cautions.append(message)
            case _:
                pass

    def oversee(self, hazards: Iterable[Hazard]) -> None:
        self.found.licensed += [hazard for hazard in hazards if hazard.licensed and hazard not in self.found.licensed]

    def take_thing(self, line: Written, thing: AnyThing) -> None:
        step, library = line.step, self.guide.library
        match step.action, thing:
            case (Install(new=True) | Replace(), Part() | Fastener() | Line()):
                self.buy(line, thing)
            case (Set(to=to), Control()) if self.opening and to.name != thing.rest.name:
                if all(control.key != thing.key for control, _ in self.found.positions):
                    self.found.positions.append((thing, to.name))
            case (Fill(), Fluid()):
                if thing not in self.found.fluids:
                    self.found.fluids.append(thing)
            case _:
                pass
        if isinstance(thing, Fastener) and isinstance(step.action, Remove | Install | Loosen | Tighten | Replace):
            if thing.drive:
                _add(self.drives, thing.drive)
            if isinstance(step.action, Tighten | Replace):
                torque = step.action.torque if isinstance(step.action, Tighten) else None
                self.torques += filter(None, [torque or thing.last_torque])
            if thing.tool and isinstance(step.action, Tighten):
                tool = library.tools.get(thing.tool.name)
                _add(self.found.tools, tool.name if tool else thing.tool.name)
            if thing.compound and isinstance(step.action, Install | Replace):
                self.consumables([thing.compound.name])

    def buy(self, line: Written, thing: Part | Fastener | Line) -> None:
        action = line.step.action
        count = action.count if isinstance(action, Install | Replace) else None
        count = count or (thing.count if isinstance(thing, Fastener) else 1)
        when = both(self.within, both(line.step.when, thing.when))
        self.new.setdefault((thing.key, line.conditional), []).append((when, count))

    def bought(self) -> Iterator[NewPart]:
        """Yield what goes in new: as many as the variant needs that needs most."""
        always = {key for key, conditional in self.new if not conditional}
        for (key, conditional), uses in self.new.items():
            thing = self.things[key]
            if (conditional and key in always) or not isinstance(thing, Part | Fastener | Line):
                continue
            yield NewPart(thing, self.most(uses), conditional, self.shared_condition(uses))

    def most(self, uses: list[tuple[When | None, int]]) -> int:
        """Return the greatest sum that one variant has."""
        if self.graph is None:
            return sum(count for _, count in uses)
        space = self.graph.space
        sums = [(space.built, 0)]
        for when, count in uses:
            meant = self.graph.meaning(when)
            split = [(space.both(held, meant), total + count) for held, total in sums]
            split += [(space.without(held, meant), total) for held, total in sums]
            sums = [(held, total) for held, total in split if held != NONE]
        return max((total for _, total in sums), default=0)

    def shared_condition(self, uses: list[tuple[When | None, int]]) -> When | None:
        """Return the condition that all uses have, if there is one and not every variant meets it."""
        first = uses[0][0]
        if self.graph is None or first is None:
            return None
        meant = self.graph.meaning(first)
        same = all(when is not None and self.graph.meaning(when) == meant for when, _ in uses)
        return self.graph.needed(first) if same else None

    def consumables(self, names: Iterable[str]) -> None:
        known = self.guide.library.consumables
        for name in names:
            _add(self.found.consumables, known[name].name if name in known else name)

    def done(self) -> Layout:
        found = self.found
        found.parts = list(self.bought())
        for tool in self.needed_tools():
            _add(found.tools, tool)
        grave = list(Signal)
        found.cautions.sort(key=lambda message: grave.index(message.signal))
        library = self.guide.library
        for message in found.cautions:
            for item in wear_of(message, library):
                _add(found.wear, item)
            self.oversee(library.hazards[ref.name] for ref in message.covers if ref.name in library.hazards)
        return found

    def needed_tools(self) -> list[str]:
        """Tools that fit the fasteners' drives, and the fewest torque wrenches that cover the torques."""
        tools = self.guide.library.tools
        names = []
        for drive in self.drives:
            fitting = [tool.name for tool in tools.values() if drive in tool.drives and tool.extends is None]
            names.append(fitting[0] if fitting else f"tool for {drive}")
        wrenches = [wrench_of(tool.key, tool.range) for tool in tools.values() if tool.range]
        return names + [tools[wrench.key].name for wrench in fewest(wrenches, self.torques).wrenches]


def _add(names: list[str], name: str) -> None:
    if name not in names:
        names.append(name)
