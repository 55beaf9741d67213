"""What to get for some jobs together: summed from what the sheet of each says, by variants.

Each job counts once, done from its beginning to its end, and with its follow-ups. Tools, equipment and consumables are
needed once for all; parts and fluids are summed. A kit is bought once for all that it covers, where it covers more than
one thing. What only a branch of a job needs stands apart.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import TypeAlias

from putback.guide.spread import base_of
from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.model.machine import Fastener, Fluid, Line, Part
from putback.model.terms import When
from putback.sheet.job import JobSheet, sheet_of
from putback.sheet.lines import SecondTool
from putback.sheet.packing import Needs, Packing, packed
from putback.sheet.poured import Amount
from putback.sheet.renewed import Totals, added
from putback.sheet.supply import OnlyIn, Over, ShoppingList, Supply, SupplyKind
from putback.sheet.wanted import LaidOut
from putback.units import Quantity
from putback.units.adding import sum_of
from putback.variants import NONE, VariantSet
from putback.variants.conditions import ManyCasesError, condition


def shopping_list(opened: Opened, names: Collection[str]) -> ShoppingList:
    """Return what to get for the jobs of these names, whatever their order.

    Raises `EntangledError` when options meet in more ways than can be followed.
    """
    jobs = tuple(job for key, job in opened.guide.jobs.items() if key in names)
    sheets, unwalked = list[tuple[str, JobSheet]](), list[Job]()
    for job in jobs:
        sheet = sheet_of(job, opened)
        if sheet is None:
            unwalked.append(job)
            continue
        sheets.append((job.key, sheet))
        later = sheet_of(job.later, opened) if job.later else None
        sheets += [(job.key, later)] if later else []
    writer = _Writer(opened, sheets)
    return ShoppingList(jobs, tuple(writer.needed()), tuple(writer.perhaps()), tuple(unwalked))


_Rows: TypeAlias = "Iterator[tuple[str, LaidOut[str]]]"


_ONCE = (SupplyKind.CONSUMABLE, SupplyKind.TOOL, SupplyKind.EQUIPMENT, SupplyKind.WEAR)
"""What is needed once for all jobs."""


class _Writer:
    """Sums the sheets of some jobs."""

    def __init__(self, opened: Opened, sheets: list[tuple[str, JobSheet]]) -> None:
        self.sheets = sheets
        self.graph, self.machine = opened.graph, opened.guide.machine

    def needed(self) -> Iterator[Supply]:
        """Yield what is needed whatever is found."""
        if self.graph is None or self.machine is None:
            return
        needs = self.needs()
        packing = packed(self.machine, self.graph, needs.totals)
        yield from self.kits(packing, needs)
        yield from self.parts(packing, needs)
        yield from self.fluids()
        for kind in _ONCE:
            yield from self.union(kind)

    def meaning(self, when: When | None) -> VariantSet:
        """Return the variants of a row."""
        assert self.graph is not None
        return self.graph.meaning(when)

    def told(self, variants: VariantSet) -> tuple[When | None, bool]:
        """Return the condition of some variants, and whether no short one says it."""
        assert self.graph is not None
        try:
            return condition(self.graph, variants), False
        except ManyCasesError:
            return None, True

    def needs(self) -> Needs:
        """Return how many new pieces of each thing all jobs take together, by variants."""
        assert self.graph is not None
        space, by_job = self.graph.space, dict[str, dict[str, Totals]]()
        needs = Needs({}, {}, set())
        for number, (job, sheet) in enumerate(self.sheets):
            for row in sheet.set_up.parts:
                key = base_of(row.thing.key)
                if row.only_if:
                    continue
                totals = by_job.setdefault(key, {}).setdefault(str(number), {})
                totals[row.count] = space.either(totals.get(row.count, NONE), self.meaning(row.when))
                needs.jobs.setdefault(key, dict.fromkeys(())).setdefault(job)
                if row.varies:
                    needs.vary.add(key)
        for key, each in by_job.items():
            needs.totals[key] = added(space, list(each.values()))
        return needs

    def kits(self, packing: list[Packing], needs: Needs) -> Iterator[Supply]:
        """Yield the kits to buy, each with what is left over of it."""
        for each in packing:
            over = tuple(
                Over(thing, count, self.told(variants)[0])
                for thing, counts in each.over
                for count, variants in counts.items()
            )
            jobs = dict.fromkeys(job for key in each.covers for job in needs.jobs[key])
            for count, variants in each.kits.items():
                when, varies = self.told(variants)
                yield Supply(
                    kind=SupplyKind.KIT, key=each.kit.key, what=each.kit, count=count, when=when, varies=varies,
                    jobs=tuple(jobs), over=over,
                )  # fmt: skip

    def parts(self, packing: list[Packing], needs: Needs) -> Iterator[Supply]:
        """Yield what is bought alone."""
        assert self.machine is not None
        loose = {key: counts for each in packing for key, counts in each.loose.items()}
        kits = {key: each.kit for each in packing for key in each.loose}
        for key, totals in needs.totals.items():
            thing = self.machine.things.get(key)
            if not isinstance(thing, Part | Fastener | Line):
                continue
            for count, variants in loose.get(key, totals).items():
                when, varies = self.told(variants)
                yield Supply(
                    kind=SupplyKind.PART, key=key, what=thing, count=count, when=when,
                    varies=varies or key in needs.vary, jobs=tuple(needs.jobs[key]), kit=kits.get(key),
                )  # fmt: skip

    def fluids(self) -> Iterator[Supply]:
        """Yield the fluids with how much of each in all."""
        assert self.graph is not None
        space, jobs = self.graph.space, dict[str, dict[str, None]]()
        filled = dict[str, dict[tuple[Quantity, ...], VariantSet]]()
        fluids, unsaid = dict[str, Fluid](), dict[str, VariantSet]()
        for job, row in self.poured():
            (fluid, volume), here = row.what, self.meaning(row.when)
            fluids[fluid.key] = fluid
            jobs.setdefault(fluid.key, {})[job] = None
            fills = filled.setdefault(fluid.key, {(): space.built})
            if volume is None:
                unsaid[fluid.key] = space.either(unsaid.get(fluid.key, NONE), here)
                continue
            for before, held in list(fills.items()):
                if (now := space.both(held, here)) != NONE:
                    fills[before] = space.without(held, now)
                    fills[*before, volume] = space.either(fills.get((*before, volume), NONE), now)
        for key, fluid in fluids.items():
            for volume, variants in self.sums(filled[key], unsaid.get(key, NONE)):
                when, varies = self.told(variants)
                yield Supply(
                    kind=SupplyKind.FLUID, key=key, what=fluid, volume=volume, when=when, varies=varies,
                    jobs=tuple(jobs[key]),
                )  # fmt: skip

    def poured(self) -> Iterator[tuple[str, LaidOut[Amount]]]:
        """Yield the rows of fluids that are filled in whatever is found."""
        for job, sheet in self.sheets:
            yield from ((job, row) for row in sheet.set_up.fluids if not row.only_if)

    def sums(
        self, fills: dict[tuple[Quantity, ...], VariantSet], unsaid: VariantSet
    ) -> Iterator[tuple[Quantity | None, VariantSet]]:
        """Yield each sum with its variants; each amount alone where they cannot be added."""
        assert self.graph is not None
        space, found = self.graph.space, dict[Quantity, VariantSet]()
        for each, variants in fills.items():
            total = sum_of(each)
            for volume in [total] if total else each:
                found[volume] = space.either(found.get(volume, NONE), variants)
        yield from ((volume, variants) for volume, variants in found.items() if variants != NONE)
        rest = space.both(unsaid, fills[()])
        if rest != NONE:
            yield None, rest

    def rows(self, kind: SupplyKind) -> _Rows:
        """Yield the rows of one kind of all jobs."""
        for job, sheet in self.sheets:
            layout = sheet.set_up
            rows = {
                SupplyKind.CONSUMABLE: layout.consumables,
                SupplyKind.TOOL: layout.tools,
                SupplyKind.EQUIPMENT: layout.equipment,
                SupplyKind.WEAR: layout.wear,
            }
            yield from ((job, row) for row in rows[kind])

    def union(self, kind: SupplyKind) -> Iterator[Supply]:
        """Yield what some job needs in any case, once for all."""
        for (key, _), (what, variants, jobs) in self.always(kind).items():
            when, varies = self.told(variants)
            yield Supply(kind=kind, key=key, what=what, when=when, varies=varies, jobs=tuple(jobs))

    def always(self, kind: SupplyKind) -> dict[tuple[str, bool], tuple[str, VariantSet, dict[str, None]]]:
        """Return what some job needs in any case; a second one of the same tool is another thing."""
        assert self.graph is not None
        found: dict[tuple[str, bool], tuple[str, VariantSet, dict[str, None]]] = {}
        for job, row in self.rows(kind):
            if not row.only_if:
                key = (row.key, isinstance(row.what, SecondTool))
                what, variants, jobs = found.get(key, (row.what, NONE, dict[str, None]()))
                found[key] = what, self.graph.space.either(variants, self.meaning(row.when)), {**jobs, job: None}
        return found

    def perhaps(self) -> Iterator[Supply]:
        """Yield what only branches need; what several jobs need so, once, with all of these."""
        found: dict[object, Supply] = {}
        for each in self.in_branches():
            alike = (each.kind, each.key, each.what, each.count, each.volume, _words(each.when))
            known = found.get(alike)
            if known is None:
                found[alike] = each
            else:
                jobs = tuple(dict.fromkeys((*known.jobs, *each.jobs)))
                found[alike] = replace(known, jobs=jobs, only_if=_by_job((*known.only_if, *each.only_if)))
        kinds = list(SupplyKind)
        yield from sorted(found.values(), key=lambda each: kinds.index(each.kind))

    def in_branches(self) -> Iterator[Supply]:
        """Yield what only branches need, job by job, but for what some job has out already in these variants."""
        if self.graph is None or self.machine is None:
            return
        space = self.graph.space
        always = {kind: self.always(kind) for kind in _ONCE}
        for job, sheet in self.sheets:
            for new in sheet.set_up.parts:
                thing = self.machine.things.get(base_of(new.thing.key))
                if new.only_if and isinstance(thing, Part | Fastener | Line):
                    yield Supply(
                        kind=SupplyKind.PART, key=thing.key, what=thing, count=new.count, when=new.when,
                        varies=new.varies, jobs=(job,), only_if=(OnlyIn(job, new.only_if),), kit=new.kit,
                    )  # fmt: skip
            for row in sheet.set_up.fluids:
                if row.only_if:
                    fluid, volume = row.what
                    yield Supply(
                        kind=SupplyKind.FLUID, key=fluid.key, what=fluid, volume=volume, when=row.when, jobs=(job,),
                        only_if=(OnlyIn(job, row.only_if),),
                    )  # fmt: skip
        for kind in _ONCE:
            for job, each in self.rows(kind):
                _, held, _ = always[kind].get((each.key, isinstance(each.what, SecondTool)), ("", NONE, {}))
                rest = space.both(space.without(self.meaning(each.when), held), space.built)
                if each.only_if and rest != NONE:
                    yield Supply(
                        kind=kind, key=each.key, what=each.what, when=each.when, jobs=(job,),
                        only_if=(OnlyIn(job, each.only_if),),
                    )  # fmt: skip


def _words(when: When | None) -> object:
    return when and tuple((c.option.name, tuple(x.name for x in c.choices)) for case in when.cases for c in case)


def _by_job(branches: tuple[OnlyIn, ...]) -> tuple[OnlyIn, ...]:
    """Return the steps of each job together: those of its follow-ups are steps of another sheet."""
    steps: dict[str, dict[str, None]] = {}
    for each in branches:
        steps.setdefault(each.job, {}).update(dict.fromkeys(each.steps))
    return tuple(OnlyIn(job, tuple(numbers)) for job, numbers in steps.items())
