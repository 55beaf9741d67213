"""Who looks for leaks, and what was opened and shut again without anybody looking."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.goes_with import goes_with, wants_no_proof
from putback.ledger.journey import End
from putback.model.called import named_by_author
from putback.model.good import limit_of, looked_for
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line
from putback.model.said import source_of
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.controls import Set
from putback.model.verbs.pieces import Loosen
from putback.source.late import Late
from putback.variants import NONE, VariantSet

_LEAKS = Late(
    r"\b(leak\w*|drip\w*|dry|tight|seep\w*|weep\w*|ooz\w*|sweat\w*|damp\w*|wet\w*|moist\w*|no drops?"
    r"|(loss|fall|drop) (of|in) pressure|pressure (loss|drop|fall|is held|holds|stays)"
    r"|no (film|trace|sign|stain)s? of \w+"
    r"|no (oil|fuel|petrol|diesel|coolant|water|fluid|gas) (at|on|around|under|below|near))\b"
    r"|(?<!without )\bbubbles\b",
    re.IGNORECASE,
)
"""Words of somebody who looks for leaks. What "runs without bubbles" was bled."""

_ALL = Late(r"\b(all|every|each|everything|everywhere|joints?|whole|round|connections?)\b", re.IGNORECASE)
"""Words of somebody who looks at more than is named."""


class Closing(NamedTuple):
    """An entry that shut what had been open, and after which nobody looks for leaks."""

    entry: Entry
    """The entry."""
    variants: VariantSet
    """The variants in which it had been open, and nobody looks."""
    looked: Entry | None
    """Who looked for leaks there too early."""


def looks_for_leaks(book: Book, entry: Entry) -> bool:
    """Tell whether a check, a measurement or an inspection speaks of leaks."""
    return bool(_LEAKS.search(_words(book, entry, _thing(book, entry))))


def closings(book: Book, end: End) -> list[Closing]:
    """Return the last entries that shut each thing that had been open, where no look for leaks follows."""
    return _Leaks(book).along((entry, held) for entry, held in reversed(list(book.before_end(end))))


class _Leaks:
    """Goes forward to an end, and keeps what is open, what is shut again, and who did it."""

    def __init__(self, book: Book) -> None:
        self.book, self.space = book, book.graph.space
        # What the job before opened is shut in this one.
        self.opened: dict[str, VariantSet] = dict.fromkeys(book.found, self.space.built)
        self.closed: dict[str, VariantSet] = {}
        self.found: list[Closing] = []
        self.looks: list[tuple[Entry, VariantSet]] = []

    def along(self, path: Iterable[tuple[Entry, VariantSet]]) -> list[Closing]:
        for entry, variants in path:
            thing = _thing(self.book, entry)
            if entry.step.verb.asks:
                if self.closed and (looks_for_leaks(self.book, entry) or self.asks_for_nothing(entry)):
                    self.look(entry, thing, variants)
            elif thing is not None and _holds_fluid(self.book, thing):
                self.turn(entry, thing, variants)
        return self.left()

    def look(self, entry: Entry, thing: AnyThing | None, variants: VariantSet) -> None:
        self.looks.append((entry, variants))
        for name in list(self.closed) if (about := self.about(entry, thing)) is None else about:
            self.opened[name] = self.space.without(
                self.opened.get(name, NONE), self.space.both(self.closed[name], variants)
            )
            self.closed[name] = self.space.without(self.closed[name], variants)

    def asks_for_nothing(self, entry: Entry) -> bool:
        """Tell whether it is a check without a limit: nobody knows what it looks for, and `no-limit` tells that."""
        action, things = entry.step.action, self.book.graph.machine.things
        return isinstance(action, Verify) and not entry.step.text and limit_of(action, things) is None

    def about(self, entry: Entry, thing: AnyThing | None) -> set[str] | None:
        """Return which of what was shut a look for leaks is about; None for all."""
        graph, action = self.book.graph, entry.step.action
        words = _words(self.book, entry, thing)
        if _ALL.search(words):
            return None
        proves = {ref.name for ref in action.proves} if isinstance(action, Verify | Measure) else set()
        names = proves | ({thing.key} if thing else set())
        if not names and entry.target:
            names = set(self.named_in(entry.target.name))
        hit = {near for name in names for near in goes_with(graph, name)} & set(self.closed)
        if not hit:
            return None
        if any(isinstance(graph.machine.things.get(name), Fluid) for name in names):
            # Of a hose nobody says what runs in it: who looks for a fluid looks at that as well.
            hit |= {name for name in self.closed if not self.fluids_of(name)}
        for name in self.named_in(words):
            hit |= goes_with(graph, name) & set(self.closed)
        return hit

    def fluids_of(self, name: str) -> set[str]:
        near = goes_with(self.book.graph, name)
        return {each for each in near if isinstance(self.book.graph.machine.things.get(each), Fluid)}

    def named_in(self, words: str) -> Iterator[str]:
        """Yield what was shut, and what goes out there, that words speak of."""
        things = self.book.graph.machine.things
        for name in {near for shut in self.closed for near in (shut, *self.fluids_of(shut))}:
            thing = things[name]
            called = [named_by_author(thing), source_of(thing.name)]
            if isinstance(thing, Fluid):
                called += source_of(thing.name).split()[-1:]
            if any(re.search(rf"\b{re.escape(each)}\b", words, re.IGNORECASE) for each in called):
                yield name

    def turn(self, entry: Entry, thing: AnyThing, variants: VariantSet) -> None:
        """Note what a step opens, or shuts."""
        space, verb = self.space, entry.step.verb
        opens, closes = verb.lets_out, verb.assembles
        if isinstance(entry.step.action, Set) and isinstance(thing, Control):
            closes = entry.step.action.to.name == thing.normal.name
            opens = not closes
        elif isinstance(entry.step.action, Loosen):
            opens = isinstance(thing, Fastener) and thing.releases_when_loose
        if opens:
            for name in (thing.key, *self.book.graph.lets_out.get(thing.key, ())):
                self.opened[name] = space.either(self.opened.get(name, NONE), variants)
        here = space.both(self.opened.get(thing.key, NONE), variants)
        here = space.without(here, wants_no_proof(self.book, entry)) if closes and here != NONE else here
        if closes and here != NONE:
            self.closed[thing.key] = space.either(self.closed.get(thing.key, NONE), here)
            self.found.append(Closing(entry, here, None))

    def left(self) -> list[Closing]:
        """Return what is shut and nobody looked at, the last first, each variant once."""
        space, told, result = self.space, NONE, list[Closing]()
        for closing in reversed(self.found):
            name = closing.entry.target.name if closing.entry.target else ""
            here = space.both(closing.variants, self.closed.get(name, NONE))
            here = space.without(here, told)
            if here != NONE:
                told = space.either(told, here)
                result.append(closing._replace(variants=here, looked=self.too_early(closing.entry, here)))
        return result

    def too_early(self, closing: Entry, variants: VariantSet) -> Entry | None:
        before = (
            entry
            for entry, held in reversed(self.looks)
            if entry.index < closing.index and self.space.both(held, variants) != NONE
        )
        return next(before, None)


def _thing(book: Book, entry: Entry) -> AnyThing | None:
    return book.graph.machine.things.get(entry.target.name) if entry.target else None


def _holds_fluid(book: Book, thing: AnyThing) -> bool:
    """Tell whether something runs out when this is opened: a fluid, a drain of one, a hose or a pipe."""
    return (
        isinstance(thing, Fluid)
        or thing.key in book.graph.lets_out
        or (isinstance(thing, Line) and thing.kind in ("hose", "pipe"))
    )


def _words(book: Book, entry: Entry, thing: AnyThing | None) -> str:
    """Return what a check says: what it looks at, its limit, what it looks for, its own sentence."""
    action = entry.step.action
    said = [named_by_author(thing) if thing else "", entry.target.name if entry.target else "", entry.step.text or ""]
    if isinstance(action, Measure | Verify):
        limit = limit_of(action, book.graph.machine.things)
        said.append(limit.text if limit else "")
    elif isinstance(action, Inspect):
        said += looked_for(action, book.graph.machine.things)
    return "; ".join(map(source_of, said))
