"""Steps as those read them who have the thing: apart where not all variants do, and with what is left of a group."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from putback.ledger.entries import Entry
from putback.ledger.newness import comes_new, condemned
from putback.ledger.program import Order
from putback.model.job import Step
from putback.model.machine import Fastener
from putback.model.states import GroupState, State
from putback.model.terms import Ref, When
from putback.model.verb import Action, only
from putback.model.verbs.acting import Act
from putback.model.verbs.cleaning import Apply
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.model.verbs.telling import Caution
from putback.sheet.survey import Survey
from putback.variants import NONE, VariantSet
from putback.variants.conditions import ManyCasesError, condition, joined


class Parting:
    """Parts the steps of a book."""

    def __init__(self, survey: Survey) -> None:
        """Take the book."""
        self.book = survey.book
        self.graph = survey.book.graph
        self.space = survey.space
        self.entries: dict[int, list[Entry]] = {}
        for entry in self.book.entries:
            self.entries.setdefault(entry.order, []).append(entry)

    def apart(self, order: Order) -> Iterator[tuple[Step, VariantSet, When | None]]:
        """Yield a step with its variants; one for each thing when these are not in the same: no variant has them all.

        A step on a thing that only some variants have is limited to them by itself.
        """
        step, both, things = order.step, self.space.both, self.graph.machine.things
        refs = step.action.to if isinstance(step.action, Apply) else step.things
        if not refs or isinstance(step.action, Caution):
            yield step, order.variants, order.when
            return
        if isinstance(step.action, Apply):
            present = [self.graph.present(ref.name) for ref in refs]
        else:
            present = [variants for _, variants in order.targets]
        whole = order.branch or step.text or isinstance(step.action, Act)
        if whole and len(set(present)) > 1 and not isinstance(step.action, Apply):
            yield from self.together(order)
            return
        if len(set(present)) == 1:
            known = next((things[ref.name] for ref in refs if ref.name in things), None)
            yield step, both(order.variants, present[0]), joined(self.graph, order.when, known.when if known else None)
            return
        for alike, variants in self.in_order(list(self.alike(refs, present))):
            first = things.get(alike[0].name)
            limit = joined(self.graph, order.when, first.when if first else None)
            yield _narrowed(step, *alike), both(order.variants, variants), limit

    def in_order(self, found: list[tuple[list[Ref], VariantSet]]) -> list[tuple[list[Ref], VariantSet]]:
        """Return things of which no variant has two in the order of the machine file, be it that a job turns them."""
        if any(self.space.both(one, other) != NONE for (_, one), (_, other) in combinations(found, 2)):
            return found
        places = {key: place for place, key in enumerate(self.graph.machine.things)}
        return sorted(found, key=lambda each: places.get(each[0][0].name, len(places)))

    def alike(self, refs: tuple[Ref, ...], present: list[VariantSet]) -> Iterator[tuple[list[Ref], VariantSet]]:
        """Yield things one by one; those of one name that stand for its places, together."""
        written, found = self.book.written, dict[object, tuple[list[Ref], VariantSet]]()
        for number, (ref, variants) in enumerate(zip(refs, present, strict=True)):
            name = written.printed_name(ref.name) if written else ref.name
            found.setdefault((name, variants) if name != ref.name else number, ([], variants))[0].append(ref)
        yield from found.values()

    def together(self, order: Order) -> Iterator[tuple[Step, VariantSet, When | None]]:
        """Yield a step that is one question, or one text of the author, for the variants that have the same things."""
        both = self.space.both
        found: dict[tuple[Ref, ...], VariantSet] = {(): self.space.built}
        targets = [(ref, present) for ref, present in order.targets if ref]
        for alike, present in self.alike(tuple(ref for ref, _ in targets), [present for _, present in targets]):
            for refs, variants in list(found.items()):
                found[refs] = self.space.without(variants, present)
                found[*refs, *alike] = both(variants, present)
        for refs, variants in found.items():
            if refs and variants != NONE:
                step = replace(order.step, action=only(order.step.action, *refs))
                yield step, both(order.variants, variants), joined(self.graph, order.when, self.short(variants))

    def as_it_stands(self, order: Order) -> Iterator[tuple[Step, VariantSet, When | None]]:
        """Yield a step as it is apart, with how many pieces there are: of a group of which some are out, the others."""
        for step, variants, limit in self.apart(order):
            if isinstance(step.action, Replace) and self.is_off(order, step):
                step = replace(step, action=step.action._replace(later=True))
            elif self.comes_new(order, step):
                step = replace(step, action=as_new(step.action))
            found = self.left(order, step, variants)
            for action, here in found:
                some = limit if len(found) == 1 else joined(self.graph, limit, self.short(here))
                yield replace(step, action=action), here, some

    def of(self, order: Order, step: Step) -> Iterator[Entry]:
        """Yield the entries of a step, but for those that go back a second time."""
        names = {ref.name for ref in step.things}
        for entry in self.entries.get(order.number, ()):
            if entry.target and entry.target.name in names and not entry.again:
                yield entry

    def is_off(self, order: Order, step: Step) -> bool:
        """Tell whether what a `replace` names is already off, whatever the way there."""
        entries = list(self.of(order, step))
        return bool(entries) and all(condemned(self.book, entry) == entry.variants != NONE for entry in entries)

    def comes_new(self, order: Order, step: Step) -> bool:
        """Tell whether all that an `install` puts on is new, whatever the way there; or what is coated first."""
        if isinstance(step.action, Apply):
            return self.is_for_new(order, step.action)
        if not isinstance(step.action, Install):
            return False
        entries = list(self.of(order, step))
        return bool(entries) and all(comes_new(self.book, entry) == entry.variants != NONE for entry in entries)

    def is_for_new(self, order: Order, action: Apply) -> bool:
        """Tell whether all that something is put on are fasteners that are out, and that new ones take the place of."""
        at = next(iter(self.entries.get(order.number, ())), None)
        if at is None:
            return False
        for ref in action.to:
            states = [state for _, state in self.book.before(ref.name, at)]
            out = all(isinstance(state, GroupState) and state.out == state.all for state in states)
            fits = [each for each in self.book.entries if each.target and each.target.name == ref.name]
            fits = [each for each in fits if each.index > at.index and isinstance(each.step.action, Install)]
            if not (out and fits) or any(comes_new(self.book, each) != each.variants for each in fits):
                return False
        return True

    def left(self, order: Order, step: Step, variants: VariantSet) -> list[tuple[Action, VariantSet]]:
        """Return what a step that takes out or puts in all of a group does: so many, at these places."""
        action, whole = step.action, [(step.action, variants)]
        thing = self.graph.machine.things.get(step.things[0].name) if len(step.things) == 1 else None
        if not isinstance(action, Remove | Install) or action.count or not isinstance(thing, Fastener):
            return whole
        entries = [each for each in self.entries.get(order.number, ()) if each.target and each.target.name == thing.key]
        found: dict[tuple[int, tuple[str, ...]], VariantSet] = {}
        for ways, state in (held for entry in entries for held in self.book.before(thing.key, entry)):
            pieces = _there(thing, state, inside=isinstance(action, Remove))
            found[pieces] = self.space.either(found.get(pieces, NONE), ways)
        if all(count in (0, thing.count) for count, _ in found):
            return whole
        result: list[tuple[Action, VariantSet]] = []
        for (count, places), ways in found.items():
            here = self.space.both(self.space.variants_of(ways), variants)
            if any(self.space.both(here, others) != NONE for _, others in result):
                # It depends on the way through the job.
                return whole
            if here != NONE:
                at = tuple(Ref(place, step.key) for place in places)
                some = 0 < count < thing.count
                result.append((action._replace(count=count, at=at) if some else action, here))
        if len(result) == 1:  # for all who read it, be it that some of them came to a stop before
            return [(result[0][0], variants)]
        return result if all(self.short(here) for _, here in result) else whole

    def short(self, variants: VariantSet) -> When | None:
        """Return the condition that just these variants meet; None for all, or when no short one says it."""
        try:
            return condition(self.graph, variants)
        except ManyCasesError:
            return None


def _narrowed(step: Step, *refs: Ref) -> Step:
    """Return a step on some of its things."""
    if isinstance(step.action, Apply):
        return replace(step, action=step.action._replace(to=refs))
    return replace(step, action=only(step.action, *refs))


def _there(thing: Fastener, state: State, *, inside: bool) -> tuple[int, tuple[str, ...]]:
    """Return how many pieces are in, or out, with their places where these have names."""
    if not isinstance(state, GroupState):
        return 0, ()
    places = zip(thing.positions, state.places, strict=False)
    named = tuple(name for name, how in places if (how != "out") is inside)
    return (state.tight + state.loose if inside else state.out), named


def as_new(action: Action) -> Action:
    """Return what a step does, of new pieces."""
    match action:
        case Install():
            return action._replace(new=True)
        case Apply():
            return action._replace(to_new=True)
        case _:
            return action
