"""What a step must say besides its action: torque, limit, count, size, part number, way of turning, and their kin.

A sentence that is made says all of it. An author's own text may leave something out: then that follows after it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from putback.joints.stages import Stage, StageKind, torque_of
from putback.model.fastened import condition_of
from putback.model.good import limit_of, looked_for
from putback.model.job import Step
from putback.model.library import Library
from putback.model.machine import AnyThing, Fastener, Fluid, Line, Part
from putback.model.said import Limit
from putback.model.screwed import left_handed
from putback.model.terms import Ref
from putback.model.turned import dial_of, held_with, set_to
from putback.model.verbs.acting import Act
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.controls import Run
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.marking import Align, Mark
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Note, Stop, Wait
from putback.model.verbs.turning import Turn
from putback.units import Quantity, QuantityError, parse_any, show
from putback.words.fact import Fact, FactKind


def facts_of(step: Step, things: Mapping[str, AnyThing], library: Library) -> tuple[Fact, ...]:
    """Return what a step must say, each fact once, in the order in which it is said."""
    return tuple(dict.fromkeys(_facts(step, things, library)))


def _facts(step: Step, things: Mapping[str, AnyThing], library: Library) -> Iterator[Fact]:
    match step.action:
        case Remove(things=refs, count=count, at=at) | Loosen(things=refs, count=count, at=at):
            yield from _pieces(refs, count, at, things)
            yield from _held(refs, count or len(at), things, comes_out=isinstance(step.action, Remove))
            yield from _left_hand(refs, things, out=True)
            if warping(refs, things) and (count is None or isinstance(step.action, Remove)):
                yield Fact(FactKind.GENTLY, "")
        case Install() as action:
            yield from _pieces(action.things, action.count, action.at, things)
            yield from _new(action.things if action.new else (), things)
            yield from _by_hand(action.things, things)
            yield from _left_hand(action.things, things, out=False)
            if action.turn:
                yield Fact(FactKind.TURN, action.turn.name)
        case Replace(things=refs, count=count, at=at):
            yield from _pieces(refs, count, at, things)
            yield from _new(refs, things)
            yield from _by_hand(refs, things)
            yield from _left_hand(refs, things, out=True)
            yield from _left_hand(refs, things, out=False)
        case Tighten() as action:
            yield from _tight(step, action, things, library)
            yield from _held(action.things, action.count or len(action.at), things, comes_out=False)
        case Drain(things=refs, volume=volume) | Fill(things=refs, volume=volume):
            yield from _fluids(refs, volume, things, filled=isinstance(step.action, Fill))
        case Inspect() as action:
            yield from (Fact(FactKind.SEEK, words) for words in looked_for(action, things))
        case Measure() | Verify() | Adjust():
            yield from _limit(limit_of(step.action, things))
            if isinstance(step.action, Measure) and (difference := step.action.difference):
                yield Fact(FactKind.DIFFERENCE, difference.quantity or difference.text)
        case _:
            yield from _others(step)
    if isinstance(step.action, Lift):
        yield from _lifted(step.action, things)


def _others(step: Step) -> Iterator[Fact]:
    match step.action:
        case Mark(against=str() as against) | Align(against=str() as against):
            yield Fact(FactKind.AGAINST, against)
        case Run(at=at, for_=for_):
            if at:
                yield Fact(FactKind.SPEED, quantity_or_words(at))
            if for_:
                yield Fact(FactKind.TIME, for_)
        case Wait(duration=duration, until=until):
            if duration:
                yield Fact(FactKind.TIME, duration)
            if until:
                yield Fact(FactKind.UNTIL, until)
        case Turn(way=way, seen_from=seen, by=by, until=until):
            if way:
                yield Fact(FactKind.TURN, way.name)
            if way and seen:
                yield Fact(FactKind.SEEN_FROM, seen)
            if by:
                yield Fact(FactKind.ANGLE, by)
            if until:
                yield Fact(FactKind.UNTIL, until)
        case Stop(words=words) | Note(words=words) | Act(words=words):
            yield Fact(FactKind.WORDS, words)
        case _:
            return


def quantity_or_words(text: str) -> Quantity | str:
    """Return a text as a quantity when it is one."""
    try:
        return parse_any(text)
    except QuantityError:
        return text


def warping(refs: tuple[Ref, ...], things: Mapping[str, AnyThing]) -> Fastener | None:
    """Return the first group of several pieces that holds a part which may warp."""
    for ref in refs:
        thing = things.get(ref.name)
        # A pin or a clip is not loosened, it is pulled.
        if isinstance(thing, Fastener) and thing.count > 1 and (thing.turned or thing.threaded):
            for held in thing.secures:
                part = things.get(held.name)
                if isinstance(part, Part) and part.loosen_evenly:
                    return thing
    return None


def _limit(limit: Limit | None) -> Iterator[Fact]:
    if limit is not None:
        yield Fact(FactKind.LIMIT, limit.quantity or limit.text)


def _groups(refs: tuple[Ref, ...], things: Mapping[str, AnyThing]) -> list[Fastener]:
    return [thing for ref in refs if isinstance(thing := things.get(ref.name), Fastener)]


def _count(
    refs: tuple[Ref, ...], count: int | None, at: tuple[Ref, ...], things: Mapping[str, AnyThing]
) -> Iterator[Fact]:
    for group in _groups(refs, things):
        if group.count > 1:
            yield Fact(FactKind.COUNT, min(count or len(at) or group.count, group.count))


def _pieces(
    refs: tuple[Ref, ...], count: int | None, at: tuple[Ref, ...], things: Mapping[str, AnyThing]
) -> Iterator[Fact]:
    yield from _count(refs, count, at, things)
    for group in _groups(refs, things):
        lengths = [show(length) for _, length in group.lengths]
        for size in (group.thread, show(group.length) if group.length else None, *lengths, group.drive):
            if size:
                yield Fact(FactKind.SIZE, size)


def _new(refs: tuple[Ref, ...], things: Mapping[str, AnyThing]) -> Iterator[Fact]:
    for ref in refs:
        thing = things.get(ref.name)
        if isinstance(thing, Part | Fastener | Line) and thing.number:
            yield Fact(FactKind.NUMBER, thing.number)


def _by_hand(refs: tuple[Ref, ...], things: Mapping[str, AnyThing]) -> Iterator[Fact]:
    for group in _groups(refs, things):
        if group.by_hand and not group.turned:
            yield Fact(FactKind.BY_HAND, group.by_hand)
            if group.past_hand_tight:
                yield Fact(FactKind.TORQUE, group.past_hand_tight)


def _left_hand(refs: tuple[Ref, ...], things: Mapping[str, AnyThing], *, out: bool) -> Iterator[Fact]:
    """Yield that left-hand threads are turned the other way, to come out or to go in."""
    for group in _groups(refs, things):
        if left_handed(group):
            yield Fact(FactKind.UNSCREWED if out else FactKind.SCREWED_IN, group.key)


def _tight(step: Step, action: Tighten, things: Mapping[str, AnyThing], library: Library) -> Iterator[Fact]:
    yield from _count(action.things, action.count, action.at, things)
    for group in _groups(action.things, things):
        if action.once_more and (shown := action.shown(group)):
            yield from (Fact(FactKind.ANGLE, group.slacken),) if group.slacken else ()
            yield Fact(FactKind.TORQUE, shown)
        elif action.stage is not None:
            yield from _stage(action.stage, group)
        elif group.stages and action.torque is None:
            for stage in group.stages:
                yield from _stage(stage, group)
        elif action.torque or group.torque:
            yield Fact(FactKind.TORQUE, action.torque or group.torque or "")
        elif group.past_hand_tight and not group.by_hand:
            yield Fact(FactKind.TORQUE, group.past_hand_tight)
        elif words := group.by_hand or group.no_torque:
            yield Fact(FactKind.BY_HAND, words)
            if group.past_hand_tight:
                yield Fact(FactKind.TORQUE, group.past_hand_tight)
        if (action.count or len(action.at) or group.count) >= group.count:
            yield from (fact for fact in _round(group) if not (action.once_more and fact.kind is FactKind.ROUNDS))
        film = None if action.once_more else condition_of(group, library).film
        if film and action.stage is None and (action.torque or group.torque or group.stages or group.past_hand_tight):
            yield Fact(FactKind.FILM, film.value)
        torque = action.shown(group)
        dial = dial_of(group, torque, library, step.tools) if torque else None
        if dial:
            yield Fact(FactKind.TORQUE, dial.setting)
        elif torque and group.running_torque:
            yield Fact(FactKind.TORQUE, set_to(group, torque))
    yield from _left_hand(action.things, things, out=False)


def _held(refs: tuple[Ref, ...], pieces: int, things: Mapping[str, AnyThing], *, comes_out: bool) -> Iterator[Fact]:
    for group in _groups(refs, things):
        for held in held_with(group, things, comes_out=comes_out):
            yield Fact(FactKind.HOLD, f"{held.key} {pieces or group.count}")


def _stage(stage: Stage, group: Fastener) -> Iterator[Fact]:
    turned = stage.kind in (StageKind.ANGLE, StageKind.BACK)
    aim = stage.quantity if turned else torque_of(stage, group.due_torque)
    if aim:
        yield Fact(FactKind.TORQUE, aim)


def _round(group: Fastener) -> Iterator[Fact]:
    if group.rule or group.order or group.sequence:
        yield Fact(FactKind.ORDER, group.key)
    if group.passes > 1:
        yield Fact(FactKind.ROUNDS, group.passes)


def _fluids(
    refs: tuple[Ref, ...], volume: Quantity | None, things: Mapping[str, AnyThing], *, filled: bool
) -> Iterator[Fact]:
    for ref in refs:
        fluid = things.get(ref.name)
        if not isinstance(fluid, Fluid):
            continue
        if filled and fluid.grade:
            yield Fact(FactKind.GRADE, fluid.grade)
        if volume is None and fluid.volume:
            yield Fact(FactKind.WHOLE, fluid.volume)
    if volume:
        yield Fact(FactKind.AMOUNT, volume)


def _lifted(action: Lift, things: Mapping[str, AnyThing]) -> Iterator[Fact]:
    if action.people:
        yield Fact(FactKind.PEOPLE, action.people)
    for ref in action.things:
        part = things.get(ref.name)
        if isinstance(part, Part) and part.mass:
            yield Fact(FactKind.MASS, part.mass)


def left_unsaid(missing: Iterable[Fact], step: Step, stays_in: Collection[str]) -> list[Fact]:
    """Return those of the facts that a text does not state which have to be said, where fasteners stay in.

    Of what is not there, nobody says that it is held; of threads that nobody sees, in which state they are.
    """
    unseen = bool(stays_in) and all(ref.name in stays_in for ref in step.things)

    def is_said(fact: Fact) -> bool:
        if fact.kind is FactKind.HOLD:
            return str(fact.value).rpartition(" ")[0] not in stays_in
        return not (unseen and fact.kind is FactKind.FILM)

    return list(filter(is_said, missing))
