"""A book as the first way through it goes: which steps stand in which branch, and what each entry moved.

What a `back-to` does a second time is left aside here: it is done with the same pieces. See `counting` for what that
means for new ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, TypeAlias

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.program import Order
from putback.model.states import GroupState, LineState, PartState, State
from putback.model.verbs.telling import Stop
from putback.variants import NONE, VariantSet

Branch: TypeAlias = tuple[int, ...]
"""The numbers of the steps, or of their outcomes, on whose answers something hangs, the outermost first."""


class Pieces(NamedTuple):
    """How the pieces of a thing stand."""

    tight: int = 0
    """In place and, of fasteners, tight."""
    loose: int = 0
    """In place, and loose."""
    out: int = 0
    """Out or off; of a line, 1 as soon as one of its ends is open."""
    places: tuple[str, ...] = ()
    """Of pieces with names, in their order: `tight`, `loose` or `out`."""
    renew: int = 0
    """How many of those that are out come back new."""


class Moved(NamedTuple):
    """What an entry did to a thing, in some variants."""

    variants: VariantSet
    """The variants; no inspection stands in it."""
    before: Pieces
    """How it stood."""
    after: Pieces
    """How it stands."""


class Round(NamedTuple):
    """Steps that a `back-to` lets be done a second time."""

    branch: Branch
    """The branch that it stands in."""
    first: int
    """The place of the first of them."""
    last: int
    """The place of the step in whose `otherwise` it stands."""
    variants: VariantSet
    """The variants in which it is so."""


class Survey:
    """Asks a book of one way at a time: all inspections are good but those that lead into a branch."""

    def __init__(self, book: Book) -> None:
        """Take the entries of the first pass."""
        self.book = book
        self.space = book.graph.space
        self.entries = [entry for entry in book.entries if not entry.again]
        self.branches: dict[int, Branch] = {}
        """By the number of a step in the program: the branch that it stands in."""
        self.orders: list[Order] = []
        self.places: dict[int, int] = {}
        """By the number of a step in the program: the place in the job of the one that it is or stands in."""
        for place, order in enumerate(book.program.orders):
            self._note(order, ())
            self.places.update((inner.number, place) for inner in order.walk())
        self._leaving: dict[Branch, list[Entry]] = {}
        back = {order.number for order in self.orders if order.back_to is not None}
        for entry in self.entries:
            if self.branch(entry) and (isinstance(entry.step.action, Stop) or entry.order in back):
                self._leaving.setdefault(self.branch(entry), []).append(entry)
        self._asking: dict[Branch, VariantSet] = {}
        self._yes: dict[Branch, frozenset[int]] = {(): frozenset()}

    def _note(self, order: Order, branch: Branch) -> None:
        self.branches[order.number] = branch
        self.orders.append(order)
        for inner in order.branch:
            self._note(inner, branch if inner.outcome else (*branch, order.number))

    def of(self, entry: Entry) -> Order:
        """Return the step in the program that an entry comes from."""
        return self.orders[entry.order]

    def branch(self, entry: Entry) -> Branch:
        """Return the branch that an entry stands in."""
        return self.branches[entry.order]

    def answered(self, ways: VariantSet, branch: Branch) -> VariantSet:
        """Return the variants of some ways on which just the inspections lead away that lead into a branch."""
        if branch not in self._yes:
            self._yes[branch] = frozenset(self.book.asked[number] for number in branch if number in self.book.asked)
        return self.space.answered(ways, self._yes[branch])

    def variants(self, entry: Entry) -> VariantSet:
        """Return the variants in which an entry happens, when just the way into its branch is not good."""
        return self.answered(entry.variants, self.branch(entry))

    def come_to(self, branch: Branch) -> VariantSet:
        """Return the variants that come to the question of a branch, on the way there."""
        if not self._asking:
            for entry in self.entries:
                for asked in self.of(entry).asking:
                    key = (*self.branch(entry), asked.number)
                    self._asking[key] = self.space.either(self._asking.get(key, NONE), self.variants(entry))
        return self._asking.get(branch, NONE)

    def gone(self, branch: Branch, before: float) -> tuple[VariantSet, VariantSet]:
        """Return the variants that leave the way into a branch before an entry: those for good, and those that go back.

        The former come to a `stop`, the latter to a `back-to`.
        """
        stopped, back = NONE, NONE
        for depth in range(1, len(branch) + 1):
            for entry in self._leaving.get(branch[:depth], ()):
                if entry.index < before:
                    here = self.space.without(self.answered(entry.variants, branch), self.space.either(stopped, back))
                    if isinstance(entry.step.action, Stop):
                        stopped = self.space.either(stopped, here)
                    else:
                        back = self.space.either(back, here)
        return stopped, back

    def rounds(self) -> Iterator[Round]:
        """Yield what is done a second time."""
        for entry in self.entries:
            back = self.of(entry).back_to
            if back is not None and self.branch(entry):
                yield Round(self.branch(entry), back, self.places[entry.order], self.variants(entry))

    def standing(self, account: str, before: Entry, branch: Branch) -> dict[Pieces, VariantSet]:
        """Return how a thing stands before an entry, on the way into a branch; not only in the entry's variants."""
        return self._pieces(self.book.held_before(account, before), branch)

    def moves(self, account: str, entry: Entry, branch: Branch) -> Iterator[Moved]:
        """Yield how a thing stood before an entry and after it, on the way into a branch."""
        after = self._pieces(self.book.after(account, entry), branch)
        for before, variants in self._pieces(self.book.before(account, entry), branch).items():
            for then, held in after.items():
                here = self.space.both(variants, held)
                if here != NONE:
                    yield Moved(here, before, then)

    def _pieces(self, holdings: tuple[tuple[VariantSet, State], ...], branch: Branch) -> dict[Pieces, VariantSet]:
        found: dict[Pieces, VariantSet] = {}
        for held, state in holdings:
            here = self.answered(held, branch)
            if here != NONE:
                pieces = pieces_of(state)
                found[pieces] = self.space.either(found.get(pieces, NONE), here)
        return found


def pieces_of(state: State) -> Pieces:
    """Return how the pieces stand of what an account holds."""
    match state:
        case PartState(on=on, renew=renew):
            return Pieces(int(on), 0, int(not on), (), int(renew))
        case GroupState():
            return Pieces(state.tight, state.loose, state.out, state.places, len(state.renew))
        case LineState(open=ends):
            return Pieces(int(not ends), 0, int(bool(ends)))
        case _:
            return Pieces()
