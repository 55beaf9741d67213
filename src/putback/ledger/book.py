"""A walked job or block, to be asked."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import wraps
from typing import Any, TypeAlias, TypeVar

from putback.guide.written import Written
from putback.ledger.entries import Entry
from putback.ledger.journey import End, Meeting, Pass
from putback.ledger.obstacles import Obstacle, crossed, is_cleared, is_missing, of_insides
from putback.ledger.program import Program
from putback.model.job import Sequence, Step
from putback.model.library import Library
from putback.model.machine import Fastener, Part
from putback.model.states import State, is_off
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.source.span import Span
from putback.variants import NONE, VariantSet
from putback.variants.graph import Edge, Graph, Why

Holdings: TypeAlias = tuple[tuple[VariantSet, State], ...]
"""What an account holds: states, each with the variants in which it holds; together they are all variants."""

PROOF = "proof of the job"
"""The account that tells whether a test followed the last assembly."""


def equipment_account(name: str) -> str:
    """Return the account of a piece of equipment. Names hold no spaces, so it cannot be that of a thing."""
    return f"equipment {name}"


def memory_account(name: str) -> str:
    """Return the account of what is known of an adjustable part's position."""
    return f"position of {name}"


_T = TypeVar("_T")


def once(ask: Callable[[Book], Iterable[_T]]) -> Callable[[Book], list[_T]]:
    """Make a question to a book that is answered once: several checks ask the same."""

    @wraps(ask)
    def answer(book: Book) -> list[_T]:
        if ask.__name__ not in book.worked_out:
            book.worked_out[ask.__name__] = list(ask(book))
        return book.worked_out[ask.__name__]

    return answer


@dataclass(slots=True)
class Book:
    """All entries of one job or block, and every account over time."""

    sequence: Sequence
    """What was walked."""
    graph: Graph
    """The order of the machine, and its variants."""
    library: Library
    """Cautions, hazards, equipment, blocks."""
    program: Program
    """The same, written out."""
    written: Written | None = None
    """The guide as it was walked, with its places and counts written out."""
    entries: list[Entry] = field(default_factory=list)
    """In order."""
    ends: list[End] = field(default_factory=list)
    """The ends that ways come to; no way comes to two."""
    passes: list[Pass] = field(default_factory=list)
    """The ways from a step to an end, or back to a machine that has stood before; the first from the first step."""
    _alive: VariantSet | None = None
    asked: dict[int, int] = field(default_factory=dict)
    """By the number of a step with an `otherwise`: the number of its question in the space, when it was first asked."""
    questions: dict[tuple[int, int], int] = field(default_factory=dict)
    """The same, by the number of the pass and that of the step."""
    meetings: list[Meeting] = field(default_factory=list)
    """Where passes go on as others: after a `back-to`, or where a machine stands as it has stood before."""
    undecided: list[Step] = field(default_factory=list)
    """`back-to` steps that led to more different machines than could be followed."""
    history: dict[str, tuple[list[float], list[Holdings]]] = field(default_factory=dict)
    """By account: numbers of the entries that changed it, and what it held after each; the first is the opening.

    Half a number is between two entries, where ways part or join."""
    _by_verb: dict[type[Action], list[Entry]] = field(default_factory=dict)
    _alike: dict[tuple[Span, Ref | None], list[Entry]] = field(default_factory=dict)
    _reached: dict[tuple[Span, Ref | None], VariantSet] = field(default_factory=dict)
    worked_out: dict[str, list[Any]] = field(default_factory=dict)
    """What was asked of it once: see `once`."""
    found: frozenset[str] = frozenset()
    """The names of what it finds off, open, out, moved, disturbed or in place."""
    leaves: frozenset[str] = frozenset()
    """The names of what it leaves so, as it says."""
    earlier: Book | None = None
    """Of a job that goes on from another: the ledger of that one."""
    is_last: bool = True
    """Whether the machine is whole after it: no block, and no job that another goes on from."""

    @property
    def stuck(self) -> list[tuple[Step, Step]]:
        """Steps that cannot be reversed, each with the `reverse` step that wants it."""
        return self.program.stuck

    def accounts(self) -> Iterator[str]:
        """Yield the accounts that some entry changed or that did not open whole."""
        yield from self.history

    def of(self, *verbs: type[Action]) -> list[Entry]:
        """Return the entries with one of these verbs, by their records, in order."""
        if not self._by_verb:
            for entry in self.entries:
                self._by_verb.setdefault(type(entry.step.action), []).append(entry)
        found = [entry for verb in verbs for entry in self._by_verb.get(verb, [])]
        return sorted(found, key=lambda entry: entry.index) if len(verbs) > 1 else found

    def before(self, account: str, entry: Entry) -> Holdings:
        """Return what an account holds just before an entry, in the entry's variants that have the thing."""
        if account not in self.history:
            return ()
        held = self.held_before(account, entry)
        return self._limited(held, self.graph.space.both(entry.variants, self.graph.present(account)))

    def held_before(self, account: str, entry: Entry) -> Holdings:
        """Return what a known account holds just before an entry, also in variants that are not the entry's."""
        numbers, holdings = self.history[account]
        # Entry -1 is the opening, so there is always one before.
        return holdings[bisect_left(numbers, entry.index) - 1]

    def after(self, account: str, entry: Entry) -> Holdings:
        """Return what an account holds just after an entry, in the entry's variants that have the thing."""
        if account not in self.history:
            return ()
        numbers, holdings = self.history[account]
        held = holdings[bisect_right(numbers, entry.index) - 1]
        return self._limited(held, self.graph.space.both(entry.variants, self.graph.present(account)))

    def changed(self, account: str, entry: Entry) -> bool:
        """Tell whether an entry may have changed an account."""
        numbers, _ = self.history.get(account, ([], []))
        place = bisect_left(numbers, entry.index)
        return place < len(numbers) and numbers[place] == entry.index

    def closing(self, account: str, at: End | None = None) -> Holdings:
        """Return what an account holds at one end, or at all: in variants that have the thing, on ways to there."""
        return self._at_ends(account, [(end, end.variants) for end in (self.ends if at is None else [at])])

    def before_end(self, end: End) -> Iterator[tuple[Entry, VariantSet]]:
        """Yield the entries that led to an end, the last first, each with those of the end's ways that it lies on."""
        space, ways, last, number = self.graph.space, end.variants, end.entries, end.of_pass
        while number >= 0:
            here = self.passes[number]
            for entry in reversed(self.entries[here.first : last]):
                variants = space.both(entry.variants, ways)
                if variants != NONE:
                    own = number == end.of_pass
                    yield entry, variants if own else space.both(end.variants, space.variants_of(variants))
            ways, last, number = here.came, here.after, here.parent

    def standing(self, account: str) -> Holdings:
        """Return the same also for ways that an inspection leads away: what would be, had they gone on."""
        return self._at_ends(account, [(end, end.standing) for end in self.ends])

    def _at_ends(self, account: str, ends: list[tuple[End, VariantSet]]) -> Holdings:
        if account not in self.history:
            return ()
        both, present = self.graph.space.both, self.graph.present(account)
        found: list[tuple[VariantSet, State]] = []
        for end, variants in ends:
            here = both(variants, present)
            if here != NONE:
                found += self._limited(end.accounts[account], here)
        return tuple(found)

    def _limited(self, holdings: Holdings, variants: VariantSet) -> Holdings:
        if len(holdings) == 1:
            return ((variants, holdings[0][1]),) if variants != NONE else ()
        both = self.graph.space.both
        return tuple((here, state) for held, state in holdings if (here := both(held, variants)) != NONE)

    def where(self, account: str, entry: Entry, test: Callable[[State], bool]) -> VariantSet:
        """Return the variants of an entry in which a test holds of an account just before it."""
        found = NONE
        for variants, state in self.before(account, entry):
            if test(state):
                found = self.graph.space.either(found, variants)
        return found

    def obstacles_out(self, entry: Entry, key: str) -> Iterator[Obstacle]:
        """Yield what must be off before `key` can come off at this entry, and is not."""
        for edge in self.graph.outside(key):
            yield from self._still_on(edge, entry)
        yield from self._of_assembly(entry, key)

    def obstacles_reach(self, entry: Entry, key: str) -> Iterator[Obstacle]:
        """Yield what covers `key` at this entry: it cannot be reached.

        A nut or a pin in a stack covers nothing of what lies under it; what lies on the nut covers both.
        """
        for edge in self.graph.outside(key):
            outer = self.graph.machine.things[edge.outer]
            if edge.why is Why.STACK and isinstance(outer, Fastener) and not isinstance(outer, Part):
                for obstacle in self.obstacles_reach(entry, edge.outer):
                    here = self.graph.space.both(obstacle.variants, edge.variants)
                    if here != NONE and obstacle.edge.why is Why.STACK:
                        yield obstacle._replace(variants=here)
            elif edge.why in (Why.BEHIND, Why.STACK):
                yield from self._still_on(edge, entry)

    def obstacles_in(self, entry: Entry, key: str) -> Iterator[Obstacle]:
        """Yield what hinders `key` from going on: an inner thing that is off, or an outer one that is on.

        A line may be connected before or after its parts are in place, so it never hinders. Of a line, a clamp needs no
        more than the end that it holds; and what a step leaves out for now does not hinder it.
        """
        left_out = {ref.name for ref in getattr(entry.step.action, "without", ())}
        for edge in self.graph.inside(key):
            if edge.why is not Why.JOINS and edge.inner not in left_out:
                yield from self._still_off(edge, entry)
        for edge in self.graph.outside(key):
            if edge.why is not Why.JOINS:
                yield from self._still_on(edge, entry)
        yield from self._of_assembly(entry, key, goes_on=True)

    def _of_assembly(self, entry: Entry, key: str, *, goes_on: bool = False) -> Iterator[Obstacle]:
        """Yield what stands on the insides of an assembly, or lies under them, and does not belong to it."""
        for name, edge in of_insides(self.graph, key, goes_on=goes_on):
            inside = self.graph.space.without(self.graph.present(name), self.away(name, entry))
            on = edge.inner == name
            told = edge._replace(inner=key) if on else edge._replace(outer=key)
            for obstacle in self._still_on(edge, entry, key) if on else self._still_off(edge, entry, key):
                here = self.graph.space.both(obstacle.variants, inside)
                if here != NONE:
                    yield obstacle._replace(edge=told, variants=here)

    def away(self, name: str, entry: Entry) -> VariantSet:
        """Return the variants in which a thing is off just before an entry."""
        return self.where(name, entry, lambda state: is_off(self.graph.machine.things[name], state))

    def _still_on(self, edge: Edge, entry: Entry, along: str = "") -> Iterator[Obstacle]:
        thing = self.graph.machine.things[edge.outer]
        return self._so(edge, entry, edge.outer, lambda state: not is_cleared(edge, thing, state), along)

    def _still_off(self, edge: Edge, entry: Entry, along: str = "") -> Iterator[Obstacle]:
        thing = self.graph.machine.things[edge.outer]
        return self._so(edge, entry, edge.inner, lambda state: is_missing(thing, state), along)

    def _so(self, edge: Edge, entry: Entry, name: str, test: Callable[[State], bool], along: str) -> Iterator[Obstacle]:
        """Yield a thing that is in the way; not where one of the two is on the bench, in an assembly that is off."""
        for variants, state in self.before(name, entry):
            if test(state):
                # Asked last: nearly always the thing is off, and what an edge holds in can be a long story.
                here = self.graph.space.both(variants, edge.variants)
                for whole in crossed(self.graph, edge, along) if here != NONE else ():
                    here = self.graph.space.without(here, self.away(whole, entry))
                if here != NONE:
                    yield Obstacle(edge, here, state)

    @property
    def alive(self) -> VariantSet:
        """The variants and ways in which an end is reached: the last step, or a `stop` that no inspection led to.

        Worked out only when something is to be told of it: together, many ends can be a long story.
        """
        if self._alive is None:
            alive = NONE
            for end in self.ends:
                alive = self.graph.space.either(alive, end.variants)
            self._alive = alive
        return self._alive

    @property
    def is_finished(self) -> bool:
        """Whether it was walked to its end, on every way, and some variant has it."""
        return not self.undecided and any(end.variants != NONE for end in self.ends)

    def reached(self, entry: Entry) -> VariantSet:
        """Return the variants and ways that got as far as an entry's step, on any way there.

        What an inspection led away before is no way there: a finding need not say that it did not.
        """
        if not self._alike:
            for other in self.entries:
                self._alike.setdefault((other.step.key, other.target), []).append(other)
        key = (entry.step.key, entry.target)
        if key not in self._reached:
            either, without, found = self.graph.space.either, self.graph.space.without, NONE
            for other in self._alike.get(key, [entry]):
                found = either(found, without(other.reached, other.gone))
            self._reached[key] = found
        return self._reached[key]

    def by(self, number: int) -> Entry | None:
        """Return the entry with a number that a state carries; None for no entry."""
        return self.entries[number] if number >= 0 else None
