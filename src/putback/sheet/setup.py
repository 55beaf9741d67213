"""What to lay out before a job: positions, parts, tools, consumables, equipment, safety messages, protective equipment.

Each thing stands with the variants that need it, and with the steps on whose answer it hangs when only a branch does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import permutations

from putback.ledger.entries import Entry
from putback.ledger.hazards import licensed_work
from putback.model.details import Kit
from putback.model.kits import kit_of
from putback.model.library import Consumable, Equipment, Hazard, SafetyMessage
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.needed import PLACED
from putback.model.setting import Setting
from putback.model.terms import Ref, Signal, When
from putback.model.verbs.acting import Act
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.equipment import Place
from putback.model.verbs.fluids import Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Caution
from putback.sheet.counting import Counted
from putback.sheet.folding import summed
from putback.sheet.limits import Limits
from putback.sheet.poured import Amount, Poured
from putback.sheet.protection import as_one
from putback.sheet.survey import Branch, Survey
from putback.sheet.tooling import Tooling
from putback.sheet.wanted import LaidOut, Wanted
from putback.variants import NONE, VariantSet


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
    more: bool = False
    """Whether machines that need these also need those of a row above."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """All that a job needs."""

    positions: tuple[LaidOut[tuple[Control, str]], ...]
    """Controls that are set away from normal before the work begins, with that position."""
    parts: tuple[NewPart, ...]
    """Parts and fasteners that go in new."""
    fluids: tuple[LaidOut[Amount], ...]
    """Fluids that are filled in, each with how much of it in all; and what branches top up, a row for each amount."""
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


class SetUpWriter:
    """Goes through a book and notes what each entry needs."""

    def __init__(self, survey: Survey, limits: Limits) -> None:
        """Take the book, and how its conditions are written."""
        self.survey = survey
        self.limits = limits
        self.machine = survey.book.graph.machine
        self.library = survey.book.library
        self.tooling = Tooling(survey)
        self.consumables, self.equipment = Wanted[str](survey), Wanted[str](survey)
        self.poured = Poured(survey)
        self.positions: dict[tuple[str, str], VariantSet] = {}
        self.opening = self.untouched = survey.book.graph.space.built
        self.first = dict(self.first_sections())
        self.cautions, self.wear = Wanted[SafetyMessage](survey), Wanted[str](survey)

    def set_up(self, counts: list[Counted], worn: Mapping[tuple[int, str], tuple[str, ...]]) -> SetUp:
        """Return what the job needs."""
        for entry in self.survey.entries:
            variants = self.survey.variants(entry)
            self.take(entry, self.survey.branch(entry), variants)
            for item in worn.get((entry.order, entry.target.name), ()) if entry.target else ():
                self.wear.add(item, item, (), variants)
        self.keep_one_pair()
        self.tooling.needed_tools()
        grave = list(Signal)
        cautions = self.cautions.laid_out(self.limits)
        return SetUp(
            positions=tuple(self.set_first()),
            parts=tuple(summed(self.bought(counts), self.survey.book.written)),
            fluids=tuple(self.poured.laid_out(self.limits)),
            tools=(*self.tooling.tools.laid_out(self.limits), *self.tooling.seconds.laid_out(self.limits)),
            consumables=tuple(self.consumables.laid_out(self.limits)),
            equipment=tuple(self.equipment.laid_out(self.limits)),
            cautions=tuple(sorted(cautions, key=lambda row: grave.index(row.what.signal))),
            wear=tuple(self.wear.laid_out(self.limits)),
            licensed=tuple(self.licensed()),
        )

    def keep_one_pair(self) -> None:
        """Leave out `gloves` for who wears `leather gloves`."""
        uses = {item: held.get((), NONE) for item, (_, held) in self.wear.uses.items()}
        for item, better in permutations(uses, 2):
            if as_one([item, better]) == (better,):
                self.wear.uses[item][1][()] = uses[item] = self.survey.space.without(uses[item], uses[better])

    def take(self, entry: Entry, branch: Branch, variants: VariantSet) -> None:
        """Note what one entry needs."""
        known = self.library
        for tool in entry.step.tools:
            self.tooling.named(tool.name, branch, variants)
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
        if not branch and isinstance(entry.step.action, Run):
            # What is set for a run belongs to the run, after its messages; so does the pull at a rope in between.
            for key, held in self.positions.items():
                self.positions[key] = self.survey.space.without(held, self.survey.space.both(variants, self.untouched))
        if not branch and (verb.handles or verb.moves or (verb.proves and not verb.asks)):
            # Now the work begins: what is set after it is no longer set first.
            self.opening = self.survey.space.without(self.opening, variants)
            if not isinstance(entry.step.action, Act | Place):
                self.untouched = self.survey.space.without(self.untouched, variants)

    def take_thing(self, entry: Entry, thing: AnyThing, branch: Branch, variants: VariantSet) -> None:
        """Note what an entry needs for the thing that it works on."""
        action = entry.step.action
        if isinstance(thing, Part) and thing.lubricant and isinstance(action, Install | Replace):
            self.consume(thing.lubricant.name, branch, variants)
        match action, thing:
            case Set(to=to), Control():
                self.set(entry, thing, to.name)
            case Fill(), Fluid():
                self.poured.fill(entry, thing, branch, variants)
            case Remove() | Install() | Loosen() | Tighten() | Replace(), Fastener():
                self.tooling.turn(entry, thing, branch, variants)
                if thing.compound and isinstance(action, Install | Replace):
                    self.consume(thing.compound.name, branch, variants)
            case Adjust(), Setting():
                self.tooling.adjust(entry, thing, branch, variants)
            case _:
                pass

    def consume(self, name: str, branch: Branch, variants: VariantSet) -> None:
        """Note a consumable, by its name in the library or by other words."""
        self.consumables.add(name, _name(self.library.consumables, name), branch, variants)

    def set(self, entry: Entry, control: Control, position: str) -> None:
        """Note a position that a control is set to before the work begins; the last one counts."""
        space = self.survey.space
        if self.survey.branch(entry):
            return
        if any(need.position.name == PLACED for need in control.needs):
            # What must be brought in before it stands among the steps, and so does all that is set after it.
            self.opening = space.without(self.opening, self.survey.variants(entry))
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
        space, above = self.survey.space, dict[str, VariantSet]()
        for row in counts:
            kit = kit_of(self.machine, row.thing)
            for new in self.limits.rows(row, lambda count: (count.new,)):
                known = above.get(row.thing.key, NONE)
                more = space.both(known, new.variants) != NONE
                above[row.thing.key] = space.either(known, new.variants)
                yield NewPart(row.thing, new.numbers[0], new.when, new.only_if, new.varies, kit, more)


def _name(entries: Mapping[str, Consumable | Equipment], key: str) -> str:
    return entries[key].name if key in entries else key
