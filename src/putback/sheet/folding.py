"""What is done for each place, printed once: single things become the thing of the file again, with their places."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, NamedTuple, TypeVar

from putback.guide.written import Written
from putback.ledger.program import Order
from putback.model.job import Step
from putback.model.terms import Ref
from putback.sheet.adjusted import SettingBack
from putback.sheet.followup import FollowUp
from putback.sheet.lines import Grid


class Repeated(NamedTuple):
    """Orders that are done one place after the other."""

    first: list[Order]
    """Those of the first place: they are printed."""
    others: list[Order]
    """Those of the others, which say the same."""
    grid: Grid
    """The places."""
    lead: Step | None
    """The `each` step above them."""


def runs(orders: Iterable[Order], depth: int) -> Iterator[Order | Repeated]:
    """Yield orders, those that are done for each place together."""
    waiting: list[Order] = []
    for order in orders:
        if waiting and _key(waiting[0], depth) != _key(order, depth):
            yield _run(waiting, depth)
            waiting = []
        if len(order.step.rounds) > depth:
            waiting.append(order)
        else:
            yield order
    if waiting:
        yield _run(waiting, depth)


def _key(order: Order, depth: int) -> object:
    rounds = order.step.rounds
    beyond = [step.key for step in order.via if len(step.rounds) <= depth]
    return (rounds[depth].each, beyond) if len(rounds) > depth else None


def _run(orders: list[Order], depth: int) -> Repeated:
    by_place: dict[str, list[Order]] = {}
    for order in orders:
        by_place.setdefault(order.step.rounds[depth].place, []).append(order)
    first, *others = by_place.values()
    here = first[0].step.rounds[depth]
    names = tuple(by_place)
    return Repeated(first, [order for each in others for order in each], Grid(here.places, names), here.lead)


def same_lines(first: list[Order], others: list[Order]) -> Iterator[tuple[Order, Order]]:
    """Yield each order of the other places with the one that is printed for it."""
    printed: dict[object, list[Order]] = {}
    for order in (inner for top in first for inner in top.walk()):
        printed.setdefault(_line(order), []).append(order)
    taken: dict[tuple[object, str], int] = {}
    for order in (inner for top in others for inner in top.walk()):
        place = order.step.rounds[-1].place if order.step.rounds else ""
        alike = printed.get(_line(order), [])
        number = taken.get((_line(order), place), 0)
        taken[_line(order), place] = number + 1
        if alike:
            yield order, alike[min(number, len(alike) - 1)]


def _line(order: Order) -> object:
    found = order.outcome.span if order.outcome else None
    return order.step.key, order.step.verb.name, found, tuple(step.key for step in order.via)


def folded(step: Step, written: Written | None) -> tuple[Step, tuple[Grid, ...]]:
    """Return a step on the things of the file, and the places that it is for, those of an `each` around it apart."""
    if written is None or not written.several:
        return step, ()
    action: Any = step.action
    changes, found = dict[str, Any](), dict[str, dict[str, None]]()
    around = {each.places for each in step.rounds}
    for field in action._fields:
        value = getattr(action, field)
        refs = (value,) if isinstance(value, Ref) else value
        if not isinstance(refs, tuple) or not refs or not all(isinstance(ref, Ref) for ref in refs):
            continue
        names = dict[str, Ref]()
        for ref in refs:
            thing = written.machine.things.get(ref.name)
            names.setdefault(written.printed_name(ref.name), ref)
            if thing and thing.place and thing.each and thing.each.name not in around:
                found.setdefault(thing.each.name, {})[thing.place] = None
        if list(names) != [ref.name for ref in refs]:
            new = tuple(Ref(name, ref.span) for name, ref in names.items())
            changes[field] = new[0] if isinstance(value, Ref) else new
    places = written.machine.places
    grids = tuple(
        Grid(kind, tuple(name for name in places[kind].names if name in names)) for kind, names in found.items()
    )
    return (replace(step, action=action._replace(**changes)) if changes else step), grids


_Row = TypeVar("_Row", bound=Any)


def summed(rows: Iterable[_Row], written: Written | None) -> Iterator[_Row]:
    """Yield rows of pieces, those of all places of one thing as one: six times two nuts are twelve."""
    if written is None or not written.several:
        yield from rows
        return
    found: dict[object, _Row] = {}
    for row in rows:
        field = "setting" if isinstance(row, SettingBack) else "thing"
        thing = getattr(row, field)
        of = written.printed.get(written.printed_name(thing.key), thing)
        key = (of.key, _words(row.when), row.only_if)
        known = found.get(key)
        found[key] = replace(row, **{field: of}) if known is None else _sum(known, row)
    yield from found.values()


def _words(when: Any) -> object:
    return when and tuple((c.option.name, tuple(x.name for x in c.choices)) for case in when.cases for c in case)


def _sum(one: Any, other: Any) -> Any:
    match one:
        case SettingBack():
            return replace(one, step=other.step or one.step)
        case FollowUp():
            return replace(one, count=one.count + other.count, steps=tuple(dict.fromkeys((*one.steps, *other.steps))))
        case _ if hasattr(one, "count"):
            return replace(one, count=one.count + other.count, varies=one.varies or other.varies)
        case _:
            more = {name: getattr(one, name) + getattr(other, name) for name in ("out", "back", "new")}
            steps = {name: tuple(dict.fromkeys((*getattr(one, name), *getattr(other, name)))) for name in ("off", "on")}
            return replace(one, **more, **steps, varies=one.varies or other.varies)
