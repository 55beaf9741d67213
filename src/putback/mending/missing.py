"""Where a step that is missing goes, in the words of a hint: after a step, before one, or at the end.

A hint that only names the step leaves the author to find its place, and most places are wrong: a cover that goes on
before what lies inside it, a valve that is opened while the pump is apart.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.closing import Unfinished, is_closed
from putback.ledger.entries import Entry
from putback.ledger.program import Order
from putback.mending.around import adjusted_by, inner_of, may_stay, outer_of
from putback.mending.sites import at_line, holds, some_when, with_keys
from putback.model.job import Step
from putback.model.machine import Control
from putback.model.terms import Need, Ref, When
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.blocks import DO, BackTo
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.fluids import Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import Loosen, Tighten
from putback.model.verbs.telling import Caution, Note, Stop
from putback.source.span import Span
from putback.variants import ALL, NONE, VariantSet


class _Spot(NamedTuple):
    """One step as it stands in the file, with all that it does."""

    step: Step
    """The step; a `do` or `reverse` stands for its block."""
    orders: list[Order]
    """What is done there."""

    def does(self, names: Collection[str], test: Callable[[Order], bool]) -> bool:
        """Tell whether something is done here to one of some things."""
        return any(test(order) and not _names(order).isdisjoint(names) for order in self.orders)


def back_block(book: Book, left: Unfinished) -> str | None:
    """Return the hint to reverse the block that leaves a thing, when nothing of it is put back otherwise."""
    if left.block is None or _back_otherwise(book, left.block):
        return None
    when = with_keys(some_when(book, None, left.variants))
    return f"add 'reverse: {left.block}'{when}{site_of(book, left, left.span)}"


def _back_otherwise(book: Book, block: str) -> bool:
    """Tell whether something that a block leaves goes back by other steps than its other half."""
    return any(is_closed(book, name) for name in _left_by(book, block))


def _left_by(book: Book, key: str) -> set[str]:
    """Return what a block leaves otherwise than it finds it."""
    block = book.library.blocks.get(key)
    return {ref.name for ref in block.ends_with} - {ref.name for ref in block.begins_with} if block else set()


def tightened_later(book: Book, left: Unfinished) -> bool:
    """Tell whether a later step tightens a fastener, in all variants in which it is not back."""
    start = left.entry.index if left.entry else -1
    found = NONE
    for entry in book.of(Tighten):
        if entry.index > start and entry.target and entry.target.name == left.key:
            found = book.graph.space.either(found, entry.variants)
    return book.graph.space.within(left.variants, found)


def back_step(book: Book, verb: str, left: Unfinished, keys: list[str] | None = None) -> str:
    """Return the hint to add the step that puts a thing back, in the variants that lack it, where it belongs.

    What a block leaves, and says so, goes back by the block's other half.
    """
    if half := back_block(book, left):
        return half
    keys = [*(keys or []), *some_when(book, left.key, left.variants)]
    return f"add '{verb}: {left.key}'{with_keys(keys)}{site_of(book, left, left.span)}"


def site_of(book: Book, left: Unfinished, span: Span, *, tightens: bool = False) -> str:
    """Return where the step goes that puts a thing back, as ` after 'install: pump' in line 8`.

    It goes after what must be done before it: what lies inside goes on, a drain is shut, the work that wants a control
    as it is now is done. If nothing is, before what goes on over it, or before the tests at the end. It stands in no
    section that is for less than its variants. `span` is the place that the hint belongs to.
    """
    names = _left_by(book, left.block) if left.block else {left.key}
    spots = _spots(book, left.entry, left.variants, inside=left.block is None and _in_block(left.entry, span))
    return _site(_Missing(book, left.entry, names, tightens), spots, span)


def site_for(book: Book, key: str, since: Entry, need: Need, span: Span) -> str:
    """Return where a control goes back to normal that a step which is missing as well sets for a need."""
    return _site(_Missing(book, since, {key}, need=need), _spots(book, since, ALL, inside=False), span)


@dataclass(slots=True)
class _Missing:
    """What is to be put back."""

    book: Book
    since: Entry | None
    """What took it away."""
    names: set[str]
    """The names of the things or equipment."""
    tightens: bool = False
    """Whether it is there, and only to be tightened."""
    need: Need | None = None
    """What a control is set for, when nothing has set it yet."""
    inner: set[str] = field(default_factory=set)
    """What must be done before."""
    adjusted: set[str] = field(default_factory=set)
    """The settings that it is loosened for, to adjust them."""
    outer: set[str] = field(default_factory=set)
    """What can only be done after."""

    def __post_init__(self) -> None:
        for name in self.names:
            self.inner |= inner_of(self.book, name) - self.names
            self.adjusted |= adjusted_by(self.book, name)
            self.outer |= outer_of(self.book, name) - self.names

    @property
    def is_aid(self) -> bool:
        """Whether it is equipment alone."""
        return not any(name in self.book.graph.machine.things for name in self.names)

    def comes_after(self, spot: _Spot) -> bool:
        """Tell whether what is done at a spot must be done before it is put back."""
        if any(_lifts_with(order, self.names) for order in spot.orders):
            return True
        for order in spot.orders:
            for need in _needs(self.book, order):
                thing = self.book.graph.machine.things.get(need.control.name)
                position = thing.normal.name if isinstance(thing, Control) else None
                if need.control.name in self.names and (
                    need.position.name == self.need.position.name if self.need else need.position.name != position
                ):
                    return True
        if spot.does(self.adjusted, _adjusts):
            return True
        within = _finishes if self.tightens else _anything
        return spot.does(self.inner, within) or spot.does(self.names, self._touches)

    def comes_before(self, spot: _Spot) -> bool:
        """Tell whether what is done at a spot can only be done after it is put back."""
        if self.is_aid and not may_stay(self.book, self.names) and any(map(_runs, spot.orders)):
            return True
        return spot.does(self.outer, _finishes) or any(map(self._frees, spot.orders))

    def _frees(self, order: Order) -> bool:
        """Tell whether a step takes a control out of the position that the work on it needs."""
        action, things = order.step.action, self.book.graph.machine.things
        return isinstance(action, Set) and any(
            need.control.name == ref.name and need.position.name != action.to.name
            for name in self.names & things.keys()
            for need in things[name].needs
            for ref in action.things
            if ref.name not in self.names
        )

    def _touches(self, order: Order) -> bool:
        return self.tightens or not isinstance(order.step.action, Tighten)


def _site(missing: _Missing, spots: list[_Spot], span: Span) -> str:
    first = next((n for n, spot in enumerate(spots) if missing.since and _within(spot, missing.since)), -1)
    last, before = first, len(spots)
    for n in range(first + 1, len(spots)):
        if missing.comes_after(spots[n]):
            last = n
        elif missing.comes_before(spots[n]):
            before = n
            break
    runs_later = any(_runs(order) for spot in spots[last + 1 :] for order in spot.orders)
    if runs_later and may_stay(missing.book, missing.names):
        return f" after {at_line(spots[-1].step, span)}"
    if last > first or (last >= 0 and _can_follow(missing)):
        return f" after {at_line(spots[last].step, span)}"
    if before == len(spots):
        before = _tests_from(spots, first + 1)
    if before < len(spots):
        return f" before {at_line(spots[before].step, span)}"
    return f" after {at_line(spots[-1].step, span)}" if spots else ""


def _can_follow(missing: _Missing) -> bool:
    """Tell whether what finishes a thing comes best directly after what was done to it: it was put in there."""
    return missing.tightens and missing.since is not None and not isinstance(missing.since.step.action, Loosen)


def _tests_from(spots: list[_Spot], start: int) -> int:
    """Return where the tests at the end begin; where the engine runs, when it runs before them."""
    for n in range(start, len(spots)):
        if any(map(_runs, spots[n].orders)):
            while n > start and all(isinstance(order.step.action, Caution) for order in spots[n - 1].orders):
                n -= 1
            return n
    tests = len(spots)
    while tests > start and all(_only_tests(order) for order in spots[tests - 1].orders):
        tests -= 1
    return tests


def _lifts_with(order: Order, names: set[str]) -> bool:
    action = order.step.action
    return isinstance(action, Lift) and action.with_ is not None and action.with_.name in names


def needs_of(book: Book, entry: Entry) -> list[Need]:
    """Return what an entry needs: its verb, and the things that it works on."""
    return _needed(book, entry.step, {ref.name for ref in entry.touched})


def _needs(book: Book, order: Order) -> list[Need]:
    return _needed(book, order.step, _names(order))


def _needed(book: Book, step: Step, names: set[str]) -> list[Need]:
    machine, verb = book.graph.machine, step.verb
    if not verb.works:
        return []
    found = list(machine.verb_needs.get(verb.name, ()))
    for name in sorted(names):
        thing = machine.things.get(name)
        found += thing.needs if thing else ()
    return found


def _names(order: Order) -> set[str]:
    to: tuple[Ref, ...] = getattr(order.step.action, "to", ()) if order.step.verb.name == "apply" else ()
    return {ref.name for ref in (*order.step.things, *to)}


def _shuts(order: Order) -> bool:
    return order.step.verb.shuts or order.step.verb.assembles


def _runs(order: Order) -> bool:
    return isinstance(order.step.action, Run)


def _only_tests(order: Order) -> bool:
    return (
        order.step.verb.proves
        or order.step.verb.asks
        or isinstance(order.step.action, Run | Caution | Note | Stop | BackTo)
    )


def _within(spot: _Spot, entry: Entry) -> bool:
    return any(inner.number == entry.order for order in spot.orders for inner in order.walk())


def _anything(_: Order) -> bool:
    return True


def _adjusts(order: Order) -> bool:
    return isinstance(order.step.action, Adjust)


def _finishes(order: Order) -> bool:
    return _shuts(order) or order.step.verb.settles or isinstance(order.step.action, Fill)


def _in_block(since: Entry | None, span: Span) -> bool:
    return since is not None and bool(since.via) and span.path == since.step.key.path and since.via[-1].verb is DO


def _spots(book: Book, since: Entry | None, variants: VariantSet, *, inside: bool) -> list[_Spot]:
    """Return the steps of the list in which something was done: of the job, or of the branch or block."""
    orders, depth = book.program.orders, 0
    if since is not None and inside:
        depth = len(since.via)
        orders = [order for order in orders if order.via[:depth] == since.via]
    while since is not None and (depth or not since.via):
        around = next((o for o in orders if o.number != since.order and holds(o, since)), None)
        if around is None:
            break
        orders = around.branch
    spots: list[_Spot] = []
    space, sections = book.graph.space, book.sequence.sections
    for order in orders:
        step = order.via[depth] if len(order.via) > depth else order.step
        if spots and spots[-1].step is step:
            spots[-1].orders.append(order)
        elif depth or variants == ALL or space.within(variants, _meant(book, sections[order.own].when)):
            spots.append(_Spot(step, [order]))
    return spots


def _meant(book: Book, when: When | None) -> VariantSet:
    return ALL if when is None else book.graph.meaning(when)
