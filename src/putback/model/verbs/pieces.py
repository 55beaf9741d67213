"""Taking parts and fasteners off and putting them on; loosening and tightening."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple, TypeAlias

from putback.joints.stages import Stage, StageError, StageKind, read_stage
from putback.model import posting
from putback.model.machine import Fastener, Machine, Part
from putback.model.reach import Aim, aim_of, shown_torque
from putback.model.reading import Reader
from putback.model.said import Said
from putback.model.terms import Ref
from putback.model.verb import PIECES, SOLID, Action, Mention, Verb, Way, WayForth
from putback.model.verbs.cleaning import made_ready
from putback.model.verbs.marking import Align, strayed
from putback.source.quoting import short
from putback.source.span import Span
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


class Remove(NamedTuple):
    """Take off; of a fastener, out."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    at: tuple[Ref, ...] = ()


class Install(NamedTuple):
    """Put on; of a fastener, in and hand-tight."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    new: bool = False
    turn: Ref | None = None
    at: tuple[Ref, ...] = ()
    without: tuple[Ref, ...] = ()
    """What belongs inside and is left out for now: shims, when it goes on to be measured."""


class Replace(NamedTuple):
    """Off, and a new one on, in one go; of what is already off, the next one to go on is new."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    at: tuple[Ref, ...] = ()
    later: bool = False
    """For the page: whether it is already off, and a new one goes on later."""


class Loosen(NamedTuple):
    """Loosen, and leave in."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    at: tuple[Ref, ...] = ()


class Tighten(NamedTuple):
    """Bring to the torque."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    torque: Quantity | None = None
    """A torque of the step's own; None for a stage that is none."""
    torque_span: Span | None = None
    at: tuple[Ref, ...] = ()
    stage: Stage | None = None
    """Snug, a share of the torque or an angle, when the step gives that in place of a torque."""
    once_more: bool = False
    """What has settled is tightened once more: slackened before, a piece at a time."""

    def aim(self, thing: Fastener) -> Aim:
        """Return how tight it makes a fastener."""
        return aim_of(self.torque, self.stage, thing)

    def shown(self, thing: Fastener) -> Quantity | None:
        """Return the torque that a wrench shows at it."""
        return shown_torque(self.torque, self.stage, thing)

    def is_stage(self, thing: Fastener) -> bool:
        """Tell whether it is a torque, or snug, after which more is due."""
        return (aim := self.aim(thing)).further is None and not aim.level.done


OfPieces: TypeAlias = Remove | Install | Replace | Loosen | Tighten
"""What is done to some pieces of a group, by their count or their positions."""


def _count(reader: Reader, node: Mapping) -> int | None:
    """Return how many pieces a step is for; named pieces are counted by their names."""
    return reader.whole(node.get("count")) or len(reader.refs(node.get("at"))) or None


def _positions(action: OfPieces, machine: Machine | None) -> Iterator[Mention]:
    for ref in action.things if action.at else ():
        group = machine.things.get(ref.name) if machine else None
        own = group.positions if isinstance(group, Fastener) else ()
        positions = (*own, *machine.places_of(group)) if machine else own
        for place in action.at if group else ():  # of what nobody knows, no position is known
            yield Mention(place, ("position",), f"{short(ref.name)} has no position", known=positions)


def _left_out(action: Install, machine: Machine | None) -> Iterator[Mention]:
    yield from _positions(action, machine)
    for ref in action.without:
        yield Mention(ref, SOLID, "without")


# Their way back


def _put_back(action: Remove, forth: WayForth) -> Iterator[Action]:
    for ref in reversed(action.things):
        thing = forth.machine.things.get(ref.name)
        count = forth.rest(ref) if action.count is None else action.count
        new = isinstance(thing, Part | Fastener) and thing.single_use
        turn = Ref(thing.rotation, ref.span) if isinstance(thing, Part) and thing.rotation else None
        yield from made_ready(ref, thing, forth)
        yield Install((ref,), count, new, turn, action.at)
        if isinstance(thing, Fastener):
            for turned in _tight_now(thing, ref, forth):
                yield Tighten((turned,), count, at=action.at)
        if isinstance(thing, Part) and thing.adjustable:
            yield Align((ref,))


def _tight_now(thing: Fastener, ref: Ref, forth: WayForth) -> Iterator[Ref]:
    """Yield what is tightened once a fastener is in: itself, or, when it is held meanwhile, the other of the joint.

    Of a bolt and its nut, the one that goes in last decides.
    """
    if thing.turned and not (thing.counterhold and forth.taken_out_before(thing.counterhold.name)):
        yield ref
    other = forth.machine.things.get(thing.held_for.name) if thing.held_for else None
    if isinstance(other, Fastener) and thing.is_nut and not other.is_nut and not forth.taken_out_before(other.key):
        yield Ref(other.key, ref.span)


def _take_again(action: Install, _forth: WayForth) -> Iterator[Action]:
    yield Remove(action.things[::-1], action.count, action.at)


def _tighten_again(action: Loosen, forth: WayForth) -> Iterator[Action]:
    if left := tuple(ref for ref in reversed(action.things) if not forth.undone_by_others(Remove, ref)):
        yield Tighten(left, action.count, at=action.at)


def _loosen_again(action: Tighten, forth: WayForth) -> Iterator[Action]:
    # What is tightened in several steps is loosened once, where it was tightened last.
    others = (ref for ref in reversed(action.things) if not forth.undone_by_others(Install, ref))
    left = tuple(ref for ref in others if not forth.done_again(Tighten, ref))
    if left and not action.once_more:
        yield Loosen(left, action.count, action.at)


# How they are read


def _read_remove(reader: Reader, value: Node, node: Mapping) -> Remove:
    return Remove(reader.refs(value), _count(reader, node), reader.refs(node.get("at")))


def _read_install(reader: Reader, value: Node, node: Mapping) -> Install:
    new, turn = reader.flag(node.get("new")), reader.direction(node.get("turn"))
    at, without = reader.refs(node.get("at")), reader.refs(node.get("without"))
    return Install(reader.refs(value), _count(reader, node), new, turn, at, without)


def _read_replace(reader: Reader, value: Node, node: Mapping) -> Replace:
    return Replace(reader.refs(value), _count(reader, node), reader.refs(node.get("at")))


def _read_loosen(reader: Reader, value: Node, node: Mapping) -> Loosen:
    return Loosen(reader.refs(value), _count(reader, node), reader.refs(node.get("at")))


def _read_tighten(reader: Reader, value: Node, node: Mapping) -> Tighten:
    stage = _stage(reader.text(torque := node.get("torque")))
    return Tighten(
        reader.refs(value),
        _count(reader, node),
        None if stage else reader.positive(torque, Kind.TORQUE),
        torque.span if torque else None,
        reader.refs(node.get("at")),
        stage,
        reader.flag(node.get("once-more")),
    )


def _stage(words: Said | None) -> Stage | None:
    """Return what stands in the place of a torque and is none: snug, a share or an angle."""
    try:
        stage = read_stage(words) if words else None
    except StageError:
        return None
    if stage is None or stage.kind in (StageKind.TORQUE, StageKind.BACK):
        return None
    return stage if stage.quantity is None or words is None else Stage(stage.kind, replace(stage.quantity, text=words))


REMOVE = Verb(
    name="remove",
    arguments=Remove,
    read=_read_remove,
    takes=PIECES,
    better={"line": "disconnect", "fluid": "drain", "equipment": "take-away"},
    other_words=("detach", "dismantle", "dismount", "extract", "pull", "strip", "take-off", "take-out", "unbolt",
                 "uninstall", "unscrew", "withdraw"),
    loose_words=("back-out", "disassemble", "lift-off", "lift-out", "prise-off", "pry-off", "pull-off", "take-apart"),
    mentions=_positions,
    way=Way.OFF,
    opens=True, lets_out=True, carries=True, reaches=True, shifts=True,
    effect=posting.taken,
    position=strayed,
    back=_put_back,
    way_back="Install it, new if it is single-use, and tighten it; clean, lubricate or align what must be.",
)  # fmt: skip

INSTALL = Verb(
    name="install",
    arguments=Install,
    read=_read_install,
    takes=PIECES,
    better={"line": "connect", "fluid": "fill", "equipment": "place"},
    other_words=("assemble", "bolt", "fit", "insert", "mount", "put-back", "put-in", "put-on", "reassemble", "refit",
                 "reinstall", "screw"),
    loose_words=("bolt-on", "offer-up", "press-in", "push-on", "reinsert", "screw-in", "screw-on", "seat", "slide-on"),
    mentions=_left_out,
    way=Way.ON,
    shuts=True, carries=True, reaches=True, assembles=True,
    effect=posting.put,
    back=_take_again,
    way_back="Remove it.",
)  # fmt: skip

REPLACE = Verb(
    name="replace",
    arguments=Replace,
    read=_read_replace,
    takes=PIECES,
    other_words=("change", "condemn", "discard", "exchange", "reject", "renew", "scrap", "substitute", "swap"),
    mentions=_positions,
    way=Way.OFF,
    opens=True,
    lets_out=True,
    shuts=True,
    carries=True,
    reaches=True,
    shifts=True,
    assembles=True,
    effect=posting.swapped,
    position=strayed,
    one_way=True,
)

LOOSEN = Verb(
    name="loosen",
    arguments=Loosen,
    read=_read_loosen,
    takes=("fastener",),
    better={"block": "reverse"},
    other_words=("back-off", "ease", "slacken", "undo-bolts", "untighten"),
    loose_words=("crack", "crack-off", "free", "slack", "slack-off", "undo"),
    mentions=_positions,
    way=Way.HELD,
    opens=True,
    lets_out=True,
    reaches=True,
    shifts=True,
    effect=posting.slackened,
    back=_tighten_again,
    way_back="Tighten it, unless the block takes it out as well.",
)

TIGHTEN = Verb(
    name="tighten",
    arguments=Tighten,
    read=_read_tighten,
    takes=("fastener",),
    other_words=("fasten", "retighten", "retorque", "secure"),
    loose_words=("do-up", "nip", "nip-up", "re-torque", "snug", "snug-up", "torque", "torque-up"),
    mentions=_positions,
    way=Way.HELD,
    shuts=True,
    reaches=True,
    shifts=True,
    assembles=True,
    effect=posting.tightened,
    back=_loosen_again,
    way_back="Loosen it, unless the block puts it in as well.",
)
