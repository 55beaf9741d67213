"""A job's steps as they are printed: numbered through, each with the variants that it is for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from putback.ledger.newness import condemned, is_condemned
from putback.ledger.program import Order
from putback.model.job import Later, Section, Step
from putback.model.machine import Fastener
from putback.model.terms import Ref, When
from putback.model.turned import held_with
from putback.model.verbs.blocks import BackTo
from putback.model.verbs.pieces import Install, Replace
from putback.model.verbs.telling import Caution, Note, Stop
from putback.sheet.folding import Repeated, folded, runs, same_lines
from putback.sheet.limits import Limits
from putback.sheet.lines import Grid, SheetOutcome, SheetSection, SheetStep, Shown
from putback.sheet.parting import Parting
from putback.sheet.protection import Discard
from putback.sheet.spoken import without_asked
from putback.sheet.staying import staying
from putback.sheet.survey import Branch, Survey
from putback.variants import NONE, VariantSet


def _letters(index: int) -> str:
    """Return a, b, … z, aa, ab, …"""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


@dataclass(slots=True)
class _Page:
    """Where steps are read: the page, or a branch on it."""

    above: str
    """The number of the step that the branch belongs to; empty on the page itself."""
    within: VariantSet
    """The variants in which it is read."""
    disposed: dict[str, VariantSet]
    """What was said of waste before, each with the variants that have read it."""
    shown: dict[str, VariantSet]
    """Safety messages of the section, likewise."""
    count: int = 0
    """Steps with a number so far."""
    conditional: bool = False
    """Whether it is a branch, into which not everybody is led."""
    grid: Grid | None = None
    """The places that its steps are done for, one after the other."""
    prefix: str = ""
    """What stands before a number on the page itself."""
    asked: tuple[Ref, ...] = ()
    """What the step above asks about."""

    @property
    def number(self) -> str:
        """The number of its last step."""
        return f"{self.above}{_letters(self.count - 1)}" if self.above else f"{self.prefix}{self.count}"


class StepWriter:
    """Writes the program of a book out in steps."""

    def __init__(
        self,
        survey: Survey,
        discards: Mapping[tuple[int, str], list[Discard]],
        worn: Mapping[tuple[int, str], tuple[str, ...]],
    ) -> None:
        """Take the book, what is waste and what is worn: by the number of a step in the program, and a name."""
        self.survey = survey
        self.book = survey.book
        self.graph = survey.book.graph
        self.space = survey.space
        self.discards = discards
        self.worn = worn
        self.staying = staying(survey)
        self.numbers: dict[int, str] = {}
        """By the number of a step in the program: its number on the page, that of the next step for a caution."""
        self.printed: dict[int, list[tuple[str, VariantSet]]] = {}
        """By the same: each number under which it stands on the page, with the variants that read it there."""
        self.parting = Parting(survey)
        self.said: dict[VariantSet, When] = {}
        """Conditions as authors wrote them, by the variants that meet them."""
        for key, thing in self.graph.machine.things.items():
            self.say(thing.when, self.graph.present(key))
        self.replacing = _condemning(survey)
        self.waiting: list[int] = []
        self.page = _Page("", self.space.built, {}, {}, prefix="F" if isinstance(self.book.sequence, Later) else "")

    def sections(self) -> Iterator[SheetSection]:
        """Yield the sections that some variant has."""
        by_section: dict[int, list[Order]] = {}
        for order in self.book.program.orders:
            by_section.setdefault(order.own, []).append(order)
        for number, section in enumerate(self.book.sequence.sections):
            if self.graph.applies(section.when):
                yield self.section(section, by_section.get(number, []))

    def section(self, section: Section, orders: list[Order]) -> SheetSection:
        """Return one section."""
        self.page.shown = {}
        self.page.within = self.space.both(self.space.built, self.graph.meaning(section.when))
        steps = tuple(self.steps(orders, self.page))
        return SheetSection(title=section.title, when=self.graph.needed(section.when), steps=steps, after=section.after)

    def steps(
        self, orders: Iterable[Order], page: _Page, inside: tuple[Step, ...] = (), depth: int = 0
    ) -> Iterator[SheetStep]:
        """Yield steps as they stand on a page, or in a branch of it that lies in some blocks."""
        for order in runs(orders, depth):
            if isinstance(order, Repeated):
                yield from self.run(order, page, inside, depth)
                inside = order.first[-1].via
                continue
            yield from self.said_at_blocks(order, inside, page)
            inside = order.via
            for step, variants, limit in self.parting.as_it_stands(order):
                here = self.space.both(variants, page.within)
                if here == NONE:
                    continue
                self.say(limit, here)
                if not (isinstance(step.action, Caution) and self.told_already(step, here, page.shown)):
                    when = None if self.space.within(page.within, here) else limit
                    yield self.step(order, step, here, when, page)

    def run(self, run: Repeated, page: _Page, inside: tuple[Step, ...], depth: int) -> Iterator[SheetStep]:
        """Yield what is done for each place, once."""
        places = self.graph.machine.places[run.grid.places].names
        names = tuple(name for name in places if name in run.grid.names)
        if page.grid is not None:
            names = tuple(f"{outer}, {name}" for outer in page.grid.names for name in names)
        grid = run.grid._replace(names=names)
        if run.lead is None:
            before, page.grid = page.grid, grid
            yield from self.steps(run.first, page, inside, depth + 1)
            page.grid = before
        else:
            page.count += 1
            number = page.number
            here = self.space.both(page.within, self.graph.meaning(run.lead.when))
            inner = _Page(number, here, page.disposed, page.shown, conditional=page.conditional, grid=grid)
            steps = tuple(self.steps(run.first, inner, inside, depth + 1))
            when = None if self.space.within(page.within, here) else run.lead.when
            yield SheetStep(
                step=run.lead, number=number, order=run.first[0].number, variants=here, when=when, each=steps
            )
        for other, printed in same_lines(run.first, run.others):
            self.numbers[other.number] = self.numbers.get(printed.number, "")
            self.printed[other.number] = self.printed.get(printed.number, [])

    def step(self, order: Order, step: Step, here: VariantSet, when: When | None, page: _Page) -> SheetStep:
        """Return one step, with all that hangs on its answer."""
        number = ""
        if not isinstance(step.action, Caution | Note):
            page.count += 1
            number = page.number
        self.numbered(order, number)
        self.printed.setdefault(order.number, []).append((number, here))
        waste = self.waste(order, step, here, page.disposed)
        # Who is not led into a branch does not read what stands there.
        branches = self.branches(order, number, here, page)
        shown, grids = folded(without_asked(step, page.asked, self.graph.machine.things), self.book.written)
        grid = page.grid if number and not isinstance(step.action, BackTo | Stop) else None
        return SheetStep(
            step=shown,
            number=number,
            order=order.number,
            variants=here,
            when=when,
            otherwise=() if step.outcomes else branches[0] if branches else (),
            outcomes=tuple(
                SheetOutcome(asked.outcome.found, steps)
                for asked, steps in zip(order.asking, branches, strict=True)
                if asked.outcome
            ),
            grids=(*filter(None, [grid]), *grids),
            conditional=page.conditional,
            waste=waste,
            messages=self.messages(order, step),
            new_if=self.new_if(order, step, here),
            goes_to=self.goes_to(order),
            stays_in=self.stays_in(order, step),
        )

    def branches(self, order: Order, number: str, here: VariantSet, page: _Page) -> list[tuple[SheetStep, ...]]:
        """Return what hangs on the answer of a step: the steps of each branch; their letters go on."""
        found, count = [], 0
        for asked in order.asking:
            if asked.outcome:
                self.numbers.setdefault(asked.number, number)
                self.printed.setdefault(asked.number, []).append((number, here))
            branch = _Page(number, here, dict(page.disposed), dict(page.shown), count, conditional=True, grid=page.grid)
            branch.asked = order.step.things
            found.append(tuple(self.steps(asked.branch, branch, order.via, len(order.step.rounds))))
            count = branch.count
        return found

    def said_at_blocks(self, order: Order, inside: tuple[Step, ...], page: _Page) -> Iterator[SheetStep]:
        """Yield the `do` and `reverse` steps that lead to a step, when something is said at them: it comes before."""
        for depth, step in enumerate(order.via):
            if order.via[: depth + 1] == inside[: depth + 1] or not says_more(step):
                continue
            here = self.space.both(page.within, self.graph.meaning(step.when))
            if here != NONE:
                when = None if self.space.within(page.within, here) else step.when
                yield SheetStep(step=step, number="", order=order.number, variants=here, when=when)

    def say(self, when: When | None, variants: VariantSet) -> None:
        """Keep the words of a condition that just these variants meet."""
        if when is not None and variants not in self.said:
            meant = self.space.both(self.graph.meaning(when), self.space.built)
            if meant == variants != self.space.built:
                self.said[variants] = when

    def numbered(self, order: Order, number: str) -> None:
        """Keep the number of a step; a caution or note, which has none, gets that of the step below it."""
        self.waiting.append(order.number)
        if number:
            for waiting in self.waiting:
                self.numbers.setdefault(waiting, number)
            self.waiting.clear()

    def goes_to(self, order: Order) -> str | None:
        """Return the number of the step that a `back-to` leads to."""
        orders = self.book.program.orders
        return None if order.back_to is None else self.numbers.get(orders[order.back_to].number)

    def told_already(self, step: Step, variants: VariantSet, shown: dict[str, VariantSet]) -> bool:
        """Tell whether a safety message of a block stands in this section already, for all who read this one."""
        within, either = self.space.within, self.space.either
        known = all(within(variants, shown.get(ref.name, NONE)) for ref in step.things)
        for ref in step.things:
            shown[ref.name] = either(shown.get(ref.name, NONE), variants)
        return known and step.key.path != self.book.sequence.path

    def waste(self, order: Order, step: Step, variants: VariantSet, disposed: dict[str, VariantSet]) -> tuple[str, ...]:
        """Return what to do with what comes out, as far as not all whom it concerns have read it before."""
        told: dict[str, None] = {}
        for name in [ref.name for ref in step.things] or [""]:
            for text, concerned in self.discards.get((order.number, name), ()):
                here = self.space.both(concerned, variants)
                if not self.space.within(here, disposed.get(text, NONE)):
                    told[text] = None
        for text in told:
            disposed[text] = self.space.either(disposed.get(text, NONE), variants)
        return tuple(told)

    def messages(self, order: Order, step: Step) -> tuple[Shown, ...]:
        """Return the safety messages of a caution."""
        if not isinstance(step.action, Caution):
            return ()
        known = self.book.library.cautions
        return tuple(
            Shown(known[ref.name], self.worn.get((order.number, ref.name), known[ref.name].ppe))
            for ref in step.things
            if ref.name in known
        )

    def new_if(self, order: Order, step: Step, here: VariantSet) -> tuple[str, ...]:
        """Return the steps on whose answers a new one goes in, in place of what they condemned."""
        if not isinstance(step.action, Install) or step.action.new or not self.replacing:
            return ()
        found: list[Branch] = []
        for entry in self.parting.of(order, step):
            name = entry.target.name if entry.target else ""
            for branch in self.replacing.get(name, ()):
                due = self.book.before(name, entry)
                if any(is_condemned(s) and self.survey.answered(ways, branch) != NONE for ways, s in due):
                    found.append(branch)
        return Limits(self.survey, self.printed, self.said).numbers_of(found, here) if found else ()

    def stays_in(self, order: Order, step: Step) -> frozenset[str]:
        """Return the fasteners of a step that stay in, and what is out of what would be held at it."""
        things = self.graph.machine.things
        groups = [group for ref in step.things if isinstance(group := things.get(ref.name), Fastener)]
        names = (group.key for held in groups for group in (held, *held_with(held, things)))
        staying = (name for name in names if (order.number, name) in self.staying)
        return frozenset(self.book.written.printed_name(name) if self.book.written else name for name in staying)


def _condemning(survey: Survey) -> dict[str, list[Branch]]:
    """Return, by thing, the branches that condemn it while it is off."""
    found: dict[str, list[Branch]] = {}
    for entry in survey.entries:
        branch = survey.branch(entry) if isinstance(entry.step.action, Replace) else ()
        if branch and entry.target and condemned(survey.book, entry) != NONE:
            found.setdefault(entry.target.name, []).append(branch)
    return found


def says_more(step: Step) -> bool:
    """Tell whether something is said at a step beside its action: a `do` is then printed before its block."""
    return any((step.text, step.note, step.because, step.figure, step.tools, step.time))
