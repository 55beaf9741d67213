"""What every moment of a job makes of every thing, as the ledger has it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator

from putback.ledger.book import PROOF, Book, Holdings, equipment_account, memory_account
from putback.ledger.entries import Entry
from putback.model.called import goes_to_its_place
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.setting import Setting
from putback.model.states import State
from putback.sheet.counting import taken_by
from putback.sheet.survey import Moved, pieces_of
from putback.sheet.tracked.moments import Moments
from putback.sheet.tracked.record import Change, Followed, Stands, Touch
from putback.sheet.tracked.standing import WHOLE, stands
from putback.variants import NONE, VariantSet

_KINDS = (
    (Fastener, "fastener"), (Part, "part"), (Line, "line"), (Fluid, "fluid"), (Control, "control"),
    (Setting, "setting"),
)  # fmt: skip
"""What things are; a part that is screwed on is counted as a fastener is."""


def followed(book: Book, moments: Moments) -> Iterator[Followed]:
    """Yield the things that some moment changes, or that the job finds undone."""
    timeline = _Timeline(book, moments)
    for key, thing in book.graph.machine.things.items():
        kind = next(name for kind, name in _KINDS if isinstance(thing, kind))
        yield from timeline.of(key, key, thing, kind)
        if goes_to_its_place(thing):
            yield from timeline.of(memory_account(key), key, thing, "position")
    for name in book.library.equipment:
        yield from timeline.of(equipment_account(name), name, None, "equipment")


class _Timeline:
    def __init__(self, book: Book, moments: Moments) -> None:
        self.book = book
        self.space = book.graph.space
        self.moments = moments
        self.firsts = [each.first for each in book.passes]
        assert PROOF in book.history

    def of(self, account: str, key: str, thing: AnyThing | None, kind: str) -> Iterator[Followed]:
        """Yield a thing when something happens to it."""
        numbers, holdings = self.book.history.get(account, ([], []))
        laps: dict[int, dict[int, list[Change]]] = {}
        for place, number in enumerate(numbers):
            if number < 0 or number != int(number):
                continue
            entry = self.book.entries[int(number)]
            changes = list(self.changes(key if account == key else "", thing, entry, *holdings[place - 1 : place + 1]))
            lap = bisect_right(self.firsts, entry.index) - 1
            for moment in self.moments.of[entry.index] if changes else ():
                rows = laps.setdefault(lap, {})
                rows[moment] = self.together(rows.get(moment, []), changes)
        opens = tuple(self.opening(thing, holdings[0])) if holdings else ()
        if laps or any(not how.closed for _, how in opens):
            rows_of = {
                lap: tuple(Touch(moment, tuple(rows[moment])) for moment in sorted(rows)) for lap, rows in laps.items()
            }
            count = thing.count if isinstance(thing, Fastener) else 1
            yield Followed(key, kind, opens, rows_of, count)

    def opening(self, thing: AnyThing | None, holdings: Holdings) -> Iterator[tuple[VariantSet, Stands]]:
        """Yield how the job finds a thing, when more is to be said of it than that it is whole."""
        found = [(held, stands(thing, state)) for held, state in holdings]
        if any(how != WHOLE for _, how in found):
            yield from found

    def changes(
        self, key: str, thing: AnyThing | None, entry: Entry, before: Holdings, after: Holdings
    ) -> Iterator[Change]:
        """Yield what an entry makes of a thing, by machines and ways; nothing where it leaves it as it is."""
        both, found = self.space.both, dict[Change, VariantSet]()
        for held, state in before:
            there = both(held, entry.variants)
            for then, now in after if there != NONE else ():
                here = both(there, then)
                if here != NONE and (change := self.change(key, thing, entry, state, now)) is not None:
                    found[change] = self.space.either(found.get(change, NONE), here)
        for change, here in found.items():
            yield change._replace(variants=here)

    def change(self, key: str, thing: AnyThing | None, entry: Entry, before: State, after: State) -> Change | None:
        """Return what an entry makes of a thing that stood in one way; None for nothing. It is of no variants yet."""
        change = Change(NONE, stands(thing, after))
        if entry.target and entry.target.name == key and isinstance(thing, Part | Fastener | Line):
            taken = taken_by(entry.step.action, Moved(NONE, pieces_of(before), pieces_of(after)), thing)
            change = change._replace(out=taken.peak, new=taken.new, places=taken.places)
        same = change.stands == stands(thing, before)
        return None if same and not (change.out or change.new or change.places) else change

    def together(self, first: list[Change], then: list[Change]) -> list[Change]:
        """Return what two entries of one moment make of a thing."""
        if not first:
            return then
        found, space = list[Change](), self.space
        for new in then:
            left = new.variants
            for old in first:
                here = space.both(left, old.variants)
                if here != NONE:
                    left = space.without(left, here)
                    out, places = max(old.out, new.out), old.places | new.places
                    found.append(Change(here, new.stands, out, old.new + new.new, places))
            if left != NONE:
                found.append(new._replace(variants=left))
        for old in first:
            left = old.variants
            for new in then:
                left = space.without(left, new.variants)
            if left != NONE:
                found.append(old._replace(variants=left))
        return found
