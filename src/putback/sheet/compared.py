"""What an author lists for a job, held against what its steps use: what the list lacks, and what no step uses."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.opened import Opened
from putback.model.details import Kit
from putback.model.job import Job
from putback.model.kits import contents_of, kit_of, kits_of
from putback.model.library import Tool
from putback.model.machine import AnyThing, Fastener, Fluid, Line, Part
from putback.model.supplies import NAMED, Supplies
from putback.model.terms import Ref
from putback.sheet.job import sheet_of
from putback.sheet.renewed import Renewed, renewed
from putback.sheet.setup import SetUp
from putback.sheet.wanted import LaidOut
from putback.source.span import Span
from putback.units import Quantity, si
from putback.variants import VariantSet

_SLACK = 1.01
"""What is as much, to the last digit."""


class Lacking(NamedTuple):
    """What a list has too little of, or not at all."""

    key: str
    """Which list."""
    what: AnyThing | str
    """What it is: a thing, or a name."""
    span: Span
    """The number that is too small, or the key of the list."""
    has: int | Quantity | None
    """How much is listed; None when it is not."""
    needs: int | Quantity | None
    """How much the steps use; None where nobody counts."""
    variants: VariantSet
    """The variants in which it is so."""


class Idle(NamedTuple):
    """What a list has more of than the steps use."""

    key: str
    """Which list."""
    ref: Ref
    """What it is, by its name in the file."""
    span: Span
    """The number that is too large, or the name."""
    has: int
    """How many are listed."""
    most: int
    """How many the steps use at most; 0 for nothing of it."""


@dataclass(frozen=True, slots=True)
class Compared:
    """The list of one job and its steps."""

    book: Book
    """The job's ledger."""
    supplies: Supplies
    """The list."""
    layout: SetUp
    """What the steps use."""
    opened: Opened
    """The guide."""

    def lacking(self) -> Iterator[Lacking]:
        """Yield what the steps use whatever is found, and the list lacks."""
        keys = self.supplies.keys
        if "parts" in keys:
            for row in renewed(self.book):
                yield from self._short(row)
        if "fluids" in keys:
            yield from self._fluids()
        for key in (key for key in NAMED if key in keys):
            have = [ref.name for ref in self.supplies.named[key]]
            have += self._perhaps_meant(key)
            for used in self._rows(key):
                known = key != "tools" or used.key in self.opened.guide.library.tools
                if not used.only_if and known and not self._has(key, used.key, have):
                    yield Lacking(key, used.key, keys[key], None, None, self.book.graph.meaning(used.when))

    def _perhaps_meant(self, key: str) -> Iterator[str]:
        """Yield the names that an unknown one of a list may stand for: it has been told already."""
        spans = {ref.span for ref in self.supplies.named[key]}
        for unknown in self.opened.unknown:
            if not spans.isdisjoint(ref.span for ref in (unknown.use.ref, *unknown.others)):
                yield from unknown.kin

    def idle(self) -> Iterator[Idle]:
        """Yield what is listed, and no step uses so much of."""
        most = {row.key: row.most() for row in renewed(self.book)}
        unknown = {ref.span for each in self.opened.unknown for ref in (each.use.ref, *each.others)}
        yield from (idle for idle in self._idle(most) if idle.ref.span not in unknown)

    def _idle(self, most: Mapping[str, int]) -> Iterator[Idle]:
        for packed in self.supplies.parts:
            name, listed = packed.thing.name, packed.pieces
            kit = self._kits().get(name) if name not in self._things() else None
            uses = self._kits_used(kit, most) if kit else most.get(name, 0)
            if listed > uses and not _uncounted(self._things().get(name)):
                yield Idle("parts", packed.thing, packed.span if uses else packed.thing.span, listed, uses)
        filled = {row.key for row in self.layout.fluids}
        for ref, _ in self.supplies.fluids:
            if ref.name not in filled:
                yield Idle("fluids", ref, ref.span, 1, 0)
        for key in NAMED:
            uses_of = [row.key for row in self._rows(key)]
            for ref in self.supplies.named[key]:
                if not self._has(key, ref.name, uses_of):
                    yield Idle(key, ref, ref.span, 1, 0)

    def _things(self) -> dict[str, AnyThing]:
        return dict(self.opened.guide.machine.things) if self.opened.guide.machine else {}

    def _kits(self) -> dict[str, Kit]:
        return kits_of(self.opened.guide.machine) if self.opened.guide.machine else {}

    def _short(self, row: Renewed) -> Iterator[Lacking]:
        """Yield the variants that take more of a thing than the list has, alone and in kits."""
        thing, machine = self._things().get(row.key), self.opened.guide.machine
        if machine is None or not isinstance(thing, Part | Fastener | Line):
            return
        listed = {packed.thing.name: packed for packed in self.supplies.parts}
        own = kit_of(machine, thing)
        if own and own.key in listed and own.contents and thing.key not in _named(own):
            return  # kit-short tells it
        holds = [
            (packed, count)
            for name, packed in listed.items()
            if name not in self._things() and (kit := self._kits().get(name))
            for each, count in contents_of(kit, machine)
            if each.key == thing.key
        ]
        alone, packed = listed.get(thing.key), next((packed for packed, _ in holds), None)
        have = (alone.pieces if alone else 0) + sum(packed.pieces * count for packed, count in holds)
        if _uncounted(thing) and (alone or packed):
            return
        over = [(need, variants) for need, variants in row.always.items() if need > have]
        for need, variants in sorted(over, key=lambda each: each[0])[-1:]:
            at = alone.span if alone else packed.span if packed else self.supplies.keys["parts"]
            yield Lacking("parts", thing, at, have if alone or packed else None, need, variants)

    def _kits_used(self, kit: Kit, most: Mapping[str, int]) -> int:
        """Return how many of a kit are enough, whatever is found."""
        machine = self.opened.guide.machine
        held = contents_of(kit, machine) if machine else []
        return max((-(-most.get(thing.key, 0) // max(1, count)) for thing, count in held), default=0)

    def _fluids(self) -> Iterator[Lacking]:
        listed, key = {ref.name: (ref, volume) for ref, volume in self.supplies.fluids}, self.supplies.keys["fluids"]
        for row in self.layout.fluids:
            fluid, need = row.what
            ref, has = listed.get(fluid.key, (None, None))
            of = self._things().get(row.key, fluid)
            variants = self.book.graph.meaning(row.when)
            if row.only_if or not isinstance(of, Fluid):
                continue
            if ref is None:
                yield Lacking("fluids", of, key, None, need, variants)
            elif has and need and (si(has)[1] or 0) * _SLACK < (si(need)[0] or 0):
                yield Lacking("fluids", of, getattr(has.text, "span", ref.span), has, need, variants)

    def _rows(self, key: str) -> tuple[LaidOut[str], ...]:
        layout = self.layout
        return {"tools": layout.tools, "consumables": layout.consumables, "equipment": layout.equipment}[key]

    def _has(self, key: str, name: str, names: Collection[str]) -> bool:
        """Tell whether some names have one, or a tool that serves as well."""
        if name in names:
            return True
        tools = self.opened.guide.library.tools
        tool = tools.get(name) if key == "tools" else None
        return tool is not None and any(_serves(tool, tools.get(each), each) for each in names)


def _named(kit: Kit) -> set[str]:
    return {packed.thing.name for packed in kit.contents}


def _uncounted(thing: AnyThing | None) -> bool:
    return isinstance(thing, Fastener) and thing.uncounted


def _serves(one: Tool, other: Tool | None, name: str) -> bool:
    """Tell whether one tool does the work of another, or turns a drive that the library has no tool for."""
    if other is None:
        return one.turns(name.removeprefix("for "))
    if one.range and other.range:
        return True
    return any(one.turns(drive) for drive in other.drives)


def compared(opened: Opened) -> Iterator[Compared]:
    """Yield each job that has a list and could be walked."""
    for book in opened.books:
        job = book.sequence
        sheet = sheet_of(job, opened) if isinstance(job, Job) and job.supplies else None
        if sheet is not None and isinstance(job, Job) and job.supplies:
            yield Compared(book, job.supplies, sheet.set_up, opened)
