"""What to lay out before a job: positions, parts, tools, consumables, equipment, safety messages, protective equipment.

Each thing stands with the variants that need it, and with the steps on whose answer it hangs when only a branch does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from putback.joints.wrench import Use, fewest, usable, wrench_of
from putback.ledger.entries import Entry
from putback.ledger.hazards import licensed_work
from putback.model.details import Kit
from putback.model.fastened import (
    adjusting_tool,
    fitting_tool,
    held_with,
    holding_tool,
    is_locked,
    set_to,
    turning_tool,
)
from putback.model.kits import kit_of
from putback.model.library import Consumable, Equipment, Hazard, SafetyMessage, Tool
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.setting import Setting
from putback.model.terms import Ref, Signal, When
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.controls import Set
from putback.model.verbs.equipment import Place
from putback.model.verbs.fluids import Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Caution
from putback.sheet.counting import Counted
from putback.sheet.limits import Limits
from putback.sheet.lines import SecondTool
from putback.sheet.survey import Branch, Survey
from putback.units import Quantity
from putback.variants import NONE, VariantSet

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class LaidOut(Generic[T]):
    """Something to lay out."""

    what: T
    """It, or its name."""
    when: When | None
    """The variants that need it; None for all."""
    only_if: tuple[str, ...] = ()
    """The steps of which only a branch needs it; empty when it is needed in any case."""


@dataclass(frozen=True, slots=True)
class NewPart:
    """A part or fastener to buy."""

    thing: Part | Fastener | Line
    """What it is."""
    count: int
    """How many."""
    when: When | None
    """The variants that need it; None for all."""
    only_if: tuple[str, ...]
    """The steps of which only a branch needs it, or needs so many more."""
    varies: bool = False
    """Whether some of the variants need fewer."""
    kit: Kit | None = None
    """The kit in which it is bought."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """All that a job needs."""

    positions: tuple[LaidOut[tuple[Control, str]], ...]
    """Controls that are set away from normal before the work begins, with that position."""
    parts: tuple[NewPart, ...]
    """Parts and fasteners that go in new."""
    fluids: tuple[LaidOut[tuple[Fluid, Quantity | None]], ...]
    """Fluids that are filled in, each with how much of it; a row for each amount."""
    tools: tuple[LaidOut[str], ...]
    """Names of tools, those of steps and those that the fasteners ask for."""
    consumables: tuple[LaidOut[str], ...]
    """Names of consumables."""
    equipment: tuple[LaidOut[str], ...]
    """Names of equipment."""
    cautions: tuple[LaidOut[SafetyMessage], ...]
    """Safety messages of the whole job, gravest first."""
    wear: tuple[LaidOut[str], ...]
    """Protective equipment."""
    licensed: tuple[LaidOut[Hazard], ...]
    """Hazards whose work a licensed professional must do or oversee."""


class _Wanted(Generic[T]):
    """What is wanted, by name, in the order in which the job calls for it."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.uses: dict[str, tuple[T, dict[Branch, VariantSet]]] = {}

    def add(self, name: str, what: T, branch: Branch, variants: VariantSet) -> None:
        if variants != NONE:
            _, uses = self.uses.setdefault(name, (what, {}))
            uses[branch] = self.survey.space.either(uses.get(branch, NONE), variants)

    def laid_out(self, limits: Limits) -> Iterator[LaidOut[T]]:
        """Yield a row for what all jobs need, and one for what a branch needs where not all do."""
        for what, uses in self.uses.values():
            for variants, branches in limits.in_two(uses):
                yield LaidOut(what, limits.condition(variants), limits.numbers_of(branches, variants))


class SetUpWriter:
    """Goes through a book and notes what each entry needs."""

    def __init__(self, survey: Survey, limits: Limits) -> None:
        """Take the book, and how its conditions are written."""
        self.survey = survey
        self.limits = limits
        self.machine = survey.book.graph.machine
        self.library = survey.book.library
        self.tools, self.seconds, self.drives = (
            _Wanted[str](survey),
            _Wanted[str](survey),
            _Wanted[tuple[str, bool]](survey),
        )
        self.consumables, self.equipment = _Wanted[str](survey), _Wanted[str](survey)
        self.fluids = _Wanted[tuple[Fluid, Quantity | None]](survey)
        self.torques: list[tuple[Quantity, Branch, VariantSet]] = []
        self.positions: dict[tuple[str, str], VariantSet] = {}
        self.opening = survey.book.graph.space.built
        self.first = dict(self.first_sections())
        self.cautions, self.wear = _Wanted[SafetyMessage](survey), _Wanted[str](survey)

    def set_up(self, counts: list[Counted], worn: Mapping[tuple[int, str], tuple[str, ...]]) -> SetUp:
        """Return what the job needs."""
        for entry in self.survey.entries:
            variants = self.survey.variants(entry)
            self.take(entry, self.survey.branch(entry), variants)
            for item in worn.get((entry.order, entry.target.name), ()) if entry.target else ():
                self.wear.add(item, item, (), variants)
        self.needed_tools()
        grave = list(Signal)
        cautions = self.cautions.laid_out(self.limits)
        return SetUp(
            positions=tuple(self.set_first()),
            parts=tuple(self.bought(counts)),
            fluids=tuple(self.fluids.laid_out(self.limits)),
            tools=(*self.tools.laid_out(self.limits), *self.seconds.laid_out(self.limits)),
            consumables=tuple(self.consumables.laid_out(self.limits)),
            equipment=tuple(self.equipment.laid_out(self.limits)),
            cautions=tuple(sorted(cautions, key=lambda row: grave.index(row.what.signal))),
            wear=tuple(self.wear.laid_out(self.limits)),
            licensed=tuple(self.licensed()),
        )

    def take(self, entry: Entry, branch: Branch, variants: VariantSet) -> None:
        """Note what one entry needs."""
        known = self.library
        for tool in entry.step.tools:
            self.tools.add(tool.name, _name(known.tools, tool.name), branch, variants)
        thing = self.machine.things.get(entry.target.name) if entry.target else None
        if thing is not None:
            self.take_thing(entry, thing, branch, variants)
        match entry.step.action, entry.target:
            case Apply(), Ref(name=name):
                self.consume(name, branch, variants)
            case Clean(with_=Ref(name=name)), _:
                self.consume(name, branch, variants)
            case Place(), Ref(name=name):
                self.equipment.add(name, _name(known.equipment, name), branch, variants)
            case Lift(with_=Ref(name=name)), _ if name in known.equipment:
                self.equipment.add(name, known.equipment[name].name, branch, variants)
            case Caution(), Ref(name=name) if name in known.cautions:
                # Whoever may come to it is told before the work begins, whatever an inspection says.
                self.cautions.add(name, known.cautions[name], (), variants)
            case _:
                pass
        verb = entry.step.verb
        if not branch and (verb.handles or verb.moves or (verb.proves and not verb.asks)):
            # Now the work begins: what is set after it is no longer set first.
            self.opening = self.survey.space.without(self.opening, variants)

    def take_thing(self, entry: Entry, thing: AnyThing, branch: Branch, variants: VariantSet) -> None:
        """Note what an entry needs for the thing that it works on."""
        action = entry.step.action
        match action, thing:
            case Set(to=to), Control():
                self.set(entry, thing, to.name)
            case Fill(), Fluid():
                volume = action.volume or thing.volume
                amount = volume.text if volume else ""
                self.fluids.add(f"{thing.key} {amount}", (thing, volume), branch, variants)
            case Remove() | Install() | Loosen() | Tighten() | Replace(), Fastener():
                if thing.drive:
                    self.drive(thing.drive, branch, variants, torqued=thing.last_torque is not None)
                self.hold(entry, thing, branch, variants)
                torque = action.shown(thing) if isinstance(action, Tighten) else thing.last_torque
                if isinstance(action, Tighten | Replace) and torque and variants != NONE:
                    self.torques.append((set_to(thing, torque), branch, variants))
                if thing.tool and isinstance(action, Tighten):
                    self.tools.add(thing.tool.name, _name(self.library.tools, thing.tool.name), branch, variants)
                if thing.compound and isinstance(action, Install | Replace):
                    self.consume(thing.compound.name, branch, variants)
            case Adjust(), Setting():
                self.adjust(entry, thing, branch, variants)
            case _:
                pass

    def adjust(self, entry: Entry, setting: Setting, branch: Branch, variants: VariantSet) -> None:
        """Note the tools that turn what a setting is adjusted by."""
        for ref, _ in setting.adjusted_by:
            thing = self.machine.things.get(ref.name)
            if isinstance(thing, Fastener) and thing.drive and thing.last_torque is None:
                here = self.survey.space.both(variants, self.survey.book.graph.present(thing.key))
                others = (each for each in self.machine.things.values() if isinstance(each, Fastener))
                nut = next((each for each in others if is_locked(thing, each)), thing)
                tool = adjusting_tool(thing, nut, self.library, entry.step.tools)
                key, name = (tool.key, tool.name) if tool else (f"for {thing.drive}", thing.drive)
                self.tools.add(key, name, branch, here)

    def hold(self, entry: Entry, thing: Fastener, branch: Branch, variants: VariantSet) -> None:
        """Note the tools that hold what is held while a fastener is turned."""
        if isinstance(entry.step.action, Install | Replace):
            return
        for held in held_with(thing, self.machine.things, comes_out=isinstance(entry.step.action, Remove)):
            tool = holding_tool(held, thing, self.library, entry.step.tools)
            turning = turning_tool(thing, self.library)
            if tool is not None:
                self.tools.add(tool.key, tool.name, branch, variants)
            elif isinstance(held, Fastener) and held.drive and is_locked(held, thing):
                self.tools.add(f"for {held.drive}", held.drive, branch, variants)
            elif turning and isinstance(held, Fastener) and held.drive in turning.drives:
                self.seconds.add(turning.key, SecondTool(turning.name), branch, variants)
            elif isinstance(held, Fastener) and held.drive and held.drive == thing.drive:
                self.seconds.add(held.drive, SecondTool(held.drive), branch, variants)
            elif isinstance(held, Fastener) and held.drive:
                self.drive(held.drive, branch, variants, torqued=False)

    def drive(self, drive: str, branch: Branch, variants: VariantSet, *, torqued: bool) -> None:
        """Note a drive."""
        self.drives.add(f"{drive} {torqued}", (drive, torqued), branch, variants)

    def consume(self, name: str, branch: Branch, variants: VariantSet) -> None:
        """Note a consumable, by its name in the library or by other words."""
        self.consumables.add(name, _name(self.library.consumables, name), branch, variants)

    def set(self, entry: Entry, control: Control, position: str) -> None:
        """Note a position that a control is set to before the work begins; the last one counts."""
        space = self.survey.space
        if self.survey.branch(entry):
            return
        first = self.first.get(self.survey.of(entry).own, NONE)
        variants = space.both(space.both(self.survey.variants(entry), self.opening), first)
        for key, held in self.positions.items():
            if key[0] == control.key:
                self.positions[key] = space.without(held, variants)
        held = self.positions.get((control.key, position), NONE)
        self.positions[control.key, position] = space.either(held, variants)

    def licensed(self) -> Iterator[LaidOut[Hazard]]:
        """Yield the hazards whose work needs a licensed professional."""
        for work in licensed_work(self.survey.book):
            variants = self.survey.space.variants_of(work.variants)
            yield LaidOut(work.risk.hazard, self.limits.condition(variants))

    def first_sections(self) -> Iterator[tuple[int, VariantSet]]:
        """Yield the number of each section that is the first of some variants, with these."""
        graph, space = self.survey.book.graph, self.survey.space
        left = space.built
        for number, section in enumerate(self.survey.book.sequence.sections):
            here = space.both(left, graph.meaning(section.when))
            if here != NONE:
                yield number, here
            left = space.without(left, here)

    def set_first(self) -> Iterator[LaidOut[tuple[Control, str]]]:
        """Yield the positions that the job sets before its work begins."""
        for (key, position), variants in self.positions.items():
            control = self.machine.things[key]
            if isinstance(control, Control) and position != control.normal.name and variants != NONE:
                yield LaidOut((control, position), self.limits.condition(variants))

    def bought(self, counts: list[Counted]) -> Iterator[NewPart]:
        """Yield what goes in new: as many as the count-back says."""
        for row in counts:
            for new in self.limits.rows(row, lambda count: (count.new,)):
                yield NewPart(
                    row.thing, new.numbers[0], new.when, new.only_if, new.varies, kit_of(self.machine, row.thing)
                )

    def needed_tools(self) -> None:
        """Add tools that fit the fasteners' drives, and the fewest torque wrenches that cover the torques."""
        tools = self.library.tools
        for (drive, torqued), uses in self.drives.uses.values():
            fitting = fitting_tool(drive, self.library, torqued=torqued)
            key, name = (fitting.key, fitting.name) if fitting else (f"for {drive}", drive)
            for branch, variants in uses.items():
                self.tools.add(key, name, branch, variants)
        known = [wrench_of(tool.key, tool.range) for tool in tools.values() if tool.range]
        chosen = fewest(known, list({torque.text: torque for torque, _, _ in self.torques}.values())).wrenches
        for torque, branch, variants in self.torques:
            fits = [wrench.key for wrench in chosen if usable(wrench, torque) is not Use.OUT]
            for key in fits[:1]:
                self.tools.add(key, tools[key].name, branch, variants)


def _name(entries: Mapping[str, Tool | Consumable | Equipment], key: str) -> str:
    return entries[key].name if key in entries else key
