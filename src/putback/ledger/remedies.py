"""Remedies: what is done when a value is out of limit, and whether that value is asked for once more after it.

A remedy changes what was asked: it tightens, turns, fits, cleans, fills; or a note says so. What only looks or
makes safe is none. It has proved itself when the same is asked again after it, before the job goes on or later on;
when a `back-to` leads to the question, or before it; or when the job stops. A worn part that goes out for a new one
needs no proof: the new one is as it was made. But a gap or a setting, which has two ends, is as it was fitted.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.felt import ADJUSTS, looks_once_more
from putback.ledger.newness import condemned
from putback.ledger.program import Order
from putback.model.job import Step
from putback.model.machine import Fastener, Fluid, Part
from putback.model.said import Limit, source_of
from putback.model.terms import Ref
from putback.model.verbs.acting import Act
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import BackTo
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.marking import Align
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Note, Stop
from putback.model.verbs.turning import Turn
from putback.source.late import Late
from putback.source.span import Span
from putback.variants import NONE, VariantSet

_SMALL = {
    "the", "and", "not", "are", "for", "with", "its", "when", "that", "again", "once", "more", "each",
    "all", "any", "now", "still",
}  # fmt: skip
_FITTED = {
    "gap", "clearance", "play", "backlash", "float", "tension", "preload", "deflection", "run", "runout", "protrusion",
}  # fmt: skip
"""Words of what comes of fitting: a new part does not bring it along."""
_LEAKS = Late(r"\b(?:leak|drip|weep|seep|drop of|drops of|damp|bubbles?\b|wet\b)", re.IGNORECASE)
"""What is looked for at a joint, which another turn of the wrench may cure or not."""
_CLEAN = {
    "clean", "clear", "free", "dirt", "dust", "dry", "open", "blocked", "clogged", "deposit", "rust", "bare", "residue",
}  # fmt: skip
"""Words of what cleaning alone brings about."""


_LEVELS = {"level", "depth", "height", "mark"}
"""Words of how high a fluid stands."""


class Remedy(NamedTuple):
    """The last thing that a remedy changes, and nobody asks again."""

    asked: Step
    """The question."""
    span: Span
    """The place of what changes it: the name of a thing; of a block that is done there, when it lies in one."""
    variants: VariantSet
    """The variants in which it is so."""
    outermost: bool
    """Whether a `back-to` can lead to the question: it stands in no other branch."""


class _Course(NamedTuple):
    """How far one has come: the changes that nobody has asked after yet, each with its variants; who is still there."""

    changes: dict[tuple[int, Ref | None], tuple[Order, VariantSet]]
    here: VariantSet


@once
def unproved(book: Book) -> Iterator[Remedy]:
    """Yield the remedies that have not proved themselves; of one change, for the innermost question around it."""
    found: dict[tuple[int, Ref | None], Remedy] = {}
    subjects: dict[int, set[str]] = {}
    stack: list[tuple[list[Order], list[Order]]] = [(book.program.orders, [])]
    while stack:
        orders, behind = stack.pop(0)
        for place, order in enumerate(orders):
            asking = order.asking
            if not asking:
                continue
            after = [*orders[place + 1 :], *behind]
            stack += [(asked.branch, after) for asked in asking]
            for asked in asking if _judges(order.step) else ():
                left = _Follower(book, order, subjects).left(asked.branch, after)
                for key, (by, variants) in left.items():
                    outermost = orders is book.program.orders
                    found[key] = Remedy(order.step, _place(order, by, key[1]), variants, outermost)
    yield from found.values()


def _place(asked: Order, by: Order, ref: Ref | None) -> Span:
    blocks = by.via[len(asked.via) :]
    if blocks:
        return blocks[0].things[0].span if blocks[0].things else blocks[0].key
    return ref.span if ref else by.step.key


class _Follower:
    """Follows what is done when one answer is out of limit."""

    def __init__(self, book: Book, asked: Order, subjects: dict[int, set[str]]) -> None:
        self.subjects = subjects
        """What steps look at, worked out once: by the numbers that Python has for them."""
        self.book, self.space = book, book.graph.space
        self.things = book.graph.machine.things
        self.asked = asked
        self.fillers = {ref.name for thing in self.things.values() if isinstance(thing, Fluid) for ref in thing.fills}
        self.opened: dict[str, bool] = {}
        """What was opened on the way, and whether somebody looked at it since then: closing it changes nothing."""

    def left(self, branch: list[Order], after: list[Order]) -> dict[tuple[int, Ref | None], tuple[Order, VariantSet]]:
        """Return the changes that nobody asks after."""
        if self.renews(branch):
            return {}
        way = self.walk(branch, _Course({}, self.asked.variants))
        for order in after if way.changes else ():
            if order.step.verb.asks and self.alike(order.step, strictly=True):
                way = self.without(way, order.variants)
        return way.changes

    def walk(self, orders: list[Order], way: _Course) -> _Course:
        for order in orders:
            action, here = order.step.action, self.space.both(order.variants, way.here)
            if here == NONE:
                continue
            if (order.step.verb.asks and self.alike(order.step, strictly=False)) or self.looks_again(order.step):
                way = self.without(way, here)
                continue  # what hangs on that answer is looked at there
            if isinstance(action, Stop | BackTo):
                way = self.without(way, here)._replace(here=self.space.without(way.here, here))
                continue
            for ref in self.changed(order):
                way = self.without(way, here)
                way.changes[order.number, ref] = (order, here)
            if asking := order.asking:
                way = self.together([way, *(self.walk(asked.branch, way) for asked in asking)])
        return way

    def changed(self, order: Order) -> list[Ref | None]:
        """Return the one thing that a step changes, if any; keep what it opens, and what is looked at."""
        action, named = order.step.action, [ref.name for ref in order.step.things]
        looks = order.step.verb.asks or isinstance(action, Drain)
        if looks or isinstance(action, Note | Act):
            self.opened = {key: looked or looks or key[:2] == "r " for key, looked in self.opened.items()}
        if isinstance(action, Remove | Disconnect | Loosen):
            self.opened |= {f"{'l' if isinstance(action, Loosen) else 'r'} {name}": False for name in named}
        closes = isinstance(action, Tighten | Connect) or (isinstance(action, Install) and not action.new)
        if closes and any(self.opened.get(f"{how} {name}") for name in named for how in "lr"):
            return []
        if closes and self.fillers.issuperset(named):
            return []  # what it is topped up through
        if isinstance(self.asked.step.action, Verify | Inspect) and self.shows(order.step):
            return []
        if isinstance(action, Fill) and not _LEVELS.isdisjoint(self.subject(self.asked.step)):
            return []  # who tops it up sees where it stands
        if isinstance(action, Note | Act):
            measures = isinstance(self.asked.step.action, Measure)
            return [None] if measures and ADJUSTS.search(source_of(action.words)) else []
        fits = isinstance(action, Tighten | Connect | Install | Replace | Align | Clean | Apply | Fill)
        if fits or (isinstance(action, Turn) and self.adjusts(order)):
            return [order.step.things[0] if order.step.things else None]
        return []

    def looks_again(self, step: Step) -> bool:
        """Tell whether words have somebody look at the same once more: `look at the dipstick again`."""
        if not isinstance(step.action, Note | Act) or not isinstance(self.asked.step.action, Verify):
            return False
        words, good = source_of(step.action.words), _said(self.asked.step) | self.subject(self.asked.step)
        return looks_once_more(words) and not good.isdisjoint(_words(words))

    def shows(self, step: Step) -> bool:
        """Tell whether who does a step sees that what was checked is good then.

        A fluid is topped up to its mark, a bolt that was not tight is brought to its torque, dirt is cleaned off.
        """
        good, same = _said(self.asked.step), not self.subject(self.asked.step).isdisjoint(self.subject(step))
        match step.action:
            case Fill(volume=None) if same:
                return True  # up to its mark
            case Fill():
                return not good.isdisjoint(_words(f"{source_of(step.text or '')} {source_of(step.note or '')}"))
            case Tighten():
                return same
            case Clean():
                return isinstance(self.asked.step.action, Inspect) or (same and not good.isdisjoint(_CLEAN))
            case _:
                return False

    def adjusts(self, order: Order) -> bool:
        """Tell whether turning something changes what was asked, and not only where a shaft stands."""
        parts = [self.things.get(ref.name) for ref in order.step.things]
        adjuster = any(isinstance(part, Fastener) or (isinstance(part, Part) and part.adjustable) for part in parts)
        return adjuster or isinstance(self.asked.step.action, Measure)

    def renews(self, branch: list[Order]) -> bool:
        """Tell whether the worn part that was asked for goes out for a new one."""
        action = self.asked.step.action
        limit = action.limit if isinstance(action, Measure | Verify) else None
        if limit and limit.quantity and limit.quantity.low is not None and limit.quantity.high is not None:
            return self.condemns(branch)
        asked, names = self.subject(self.asked.step), {ref.name for ref in self.asked.step.things}
        orders = [inner for top in branch for inner in top.walk()]
        drained = {ref.name for order in orders if isinstance(order.step.action, Drain) for ref in order.step.things}
        for order in orders:
            done = order.step.action
            new = isinstance(done, Replace) or (isinstance(done, Install) and done.new)
            for name in (ref.name for ref in order.step.things):
                # A worn part that goes back as it is, is told by `worn-part`.
                worn = isinstance(done, Install) and isinstance(part := self.things.get(name), Part) and part.wear
                renewed = new or (isinstance(done, Fill) and name in drained)
                if name in names and (renewed or (worn and isinstance(action, Measure))):
                    return True
                head = _words(name.replace("-", " ").split()[-1])
                if renewed and asked.isdisjoint(_FITTED) and head and head <= asked:
                    return True
        return False

    def condemns(self, branch: list[Order]) -> bool:
        """Tell whether what was asked for on the bench is condemned there: the next one to go on is new."""
        asked = self.subject(self.asked.step)
        if not asked.isdisjoint(_FITTED):
            return False
        numbers = {order.number for top in branch for order in top.walk() if isinstance(order.step.action, Replace)}
        return any(
            entry.order in numbers and entry.target and _words(entry.target.name.replace("-", " ")) <= asked
            and condemned(self.book, entry) == entry.variants
            for entry in (self.book.entries if numbers else ())
        )  # fmt: skip

    def alike(self, step: Step, *, strictly: bool) -> bool:
        """Tell whether a step asks the same once more."""
        first, measured = self.asked.step, isinstance(self.asked.step.action, Measure)
        names = {ref.name for ref in first.things} & {ref.name for ref in step.things}
        mine, other = self.subject(first), self.subject(step)
        if strictly:
            # Another measurement later on, or a check, may be of something near it.
            return (bool(names) or (bool(mine) and mine == other)) and (
                not measured or isinstance(step.action, Measure)
            )
        if names:
            return True
        kinds = {limit.quantity.kind for each in (first, step) if (limit := _limit(each)) and limit.quantity}
        alike = measured and isinstance(step.action, Measure) and len(kinds) == 1
        return alike or not mine.isdisjoint(other) or not _said(first).isdisjoint(_said(step))

    def subject(self, step: Step) -> set[str]:
        """Return the words of what a step looks at."""
        if id(step) not in self.subjects:
            self.subjects[id(step)] = _words(" ".join(ref.name for ref in step.things))
        return self.subjects[id(step)]

    def without(self, way: _Course, variants: VariantSet) -> _Course:
        changes = {key: (order, self.space.without(held, variants)) for key, (order, held) in way.changes.items()}
        return _Course({key: each for key, each in changes.items() if each[1] != NONE}, way.here)

    def together(self, ways: list[_Course]) -> _Course:
        """Return what is so on one of several ways."""
        changes: dict[tuple[int, Ref | None], tuple[Order, VariantSet]] = {}
        here = NONE
        for way in ways:
            here = self.space.either(here, way.here)
            for key, (order, variants) in way.changes.items():
                changes[key] = (order, self.space.either(changes[key][1] if key in changes else NONE, variants))
        return _Course(changes, here)


def _judges(step: Step) -> bool:
    """Tell whether an answer is asked for once more when something was changed: a value, a check, a look for leaks.

    Who looks for wear or cracks takes a new part, and who looks for dirt cleans.
    """
    action = step.action
    return isinstance(action, Measure | Verify) or (
        isinstance(action, Inspect) and any(_LEAKS.search(source_of(words)) for words in action.for_)
    )


def _limit(step: Step) -> Limit | None:
    return step.action.limit if isinstance(step.action, Measure | Verify) else None


def _said(step: Step) -> set[str]:
    """Return the words of what must be so."""
    limit = _limit(step)
    return _words(source_of(limit.text)) if limit and limit.quantity is None else set()


def _words(text: str) -> set[str]:
    return {
        word.removesuffix("s") for word in re.findall(r"[^\W\d_]{3,}|[0-9]+", text.casefold()) if word not in _SMALL
    }
