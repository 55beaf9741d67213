"""Stages of tightening: snug, shares of the torque, torques, angles, and back by an angle."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from putback.joints import JointError
from putback.units import Kind, Quantity, QuantityError, digits, parse_any, si


class StageError(JointError):
    """A text that is no stage of tightening. Its message is fit for the author."""


class StageKind(StrEnum):
    """How a stage says how tight."""

    SNUG = "snug"
    """Until the parts touch."""
    SHARE = "share"
    """A share of the torque, %."""
    TORQUE = "torque"
    """To a torque."""
    ANGLE = "angle"
    """Further by an angle."""
    BACK = "back"
    """Loosened again by an angle, as the nut of a wheel bearing is once it has seated the rollers."""


@dataclass(frozen=True, slots=True)
class Stage:
    """One time round all the pieces."""

    kind: StageKind
    """How it says how tight."""
    quantity: Quantity | None = None
    """The share, the torque or the angle; None for snug."""


_HINT = "it can be 'snug', a share such as 50 %, a torque such as 20 N·m, an angle such as 90°, or 'back 90°'"
_KINDS = {Kind.SHARE: StageKind.SHARE, Kind.TORQUE: StageKind.TORQUE, Kind.ANGLE: StageKind.ANGLE}


def read_stage(text: str) -> Stage:
    """Return the stage that a text names. Raises StageError."""
    if text.strip().lower() == "snug":
        return Stage(StageKind.SNUG)
    first, _, behind = text.strip().partition(" ")
    back = first.lower() == "back" and bool(behind)
    try:
        quantity = parse_any(behind.removeprefix("off ") if back else text)
    except QuantityError as error:
        raise StageError(str(error), _HINT) from None
    kind = _KINDS.get(quantity.kind)
    if back:
        kind = StageKind.BACK if kind is StageKind.ANGLE else None
    if kind is None:
        raise StageError(f"'{text}' is {quantity.kind.one}, not a stage of tightening", _HINT)
    low, _ = si(quantity)
    if low is None or low <= 0:
        raise StageError(f"'{text}' tightens nothing", _HINT)
    return Stage(kind, quantity)


def ends_back(stages: Sequence[Stage]) -> bool:
    """Tell whether the last stage loosens again."""
    return bool(stages) and stages[-1].kind is StageKind.BACK


def final_torque(stages: Sequence[Stage], torque: Quantity | None) -> Quantity | None:
    """Return the last torque that a wrench shows: of the last stage that gives one, or else the fastener's own."""
    given = [stage.quantity for stage in stages if stage.kind is StageKind.TORQUE]
    return given[-1] if given else torque


def torque_of(stage: Stage, torque: Quantity | None) -> Quantity | None:
    """Return the torque to which a stage tightens: a share as a share of `torque`; None for snug and angles."""
    if stage.kind is StageKind.TORQUE:
        return stage.quantity
    if stage.kind is StageKind.SHARE and torque is not None and stage.quantity is not None:
        return share_of(torque, stage.quantity)
    return None


def share_of(torque: Quantity, share: Quantity) -> Quantity | None:
    """Return a share of a torque with the digits of a wrench scale: half a unit up to 20, whole units above."""
    middle = torque.nominal if torque.nominal is not None else torque.high
    part = share.nominal
    if middle is None or part is None:
        return None
    value = middle * part / 100
    if part == 100:
        return torque
    rounded = round(value * 2) / 2 if value >= 3 else round(value, 1)
    if value > 20:
        rounded = round(value)
    return parse_any(f"{digits(rounded, 28)} {torque.unit}")


def by_angle(stages: Sequence[Stage]) -> bool:
    """Tell whether tightening ends by an angle, which stretches a bolt beyond what a torque does."""
    return any(stage.kind is StageKind.ANGLE for stage in stages)


def backs_off(stages: Sequence[Stage]) -> bool:
    """Tell whether tightening ends by loosening again: the torque only seats a bearing, and loads no bolt."""
    return any(stage.kind is StageKind.BACK for stage in stages)


class StageFault(NamedTuple):
    """What is wrong with a list of stages."""

    place: int
    """The stage, from 0."""
    message: str
    hint: str
    between: bool = False
    """Whether it lies between the stage and the torque, and either may be wrong."""


def faults(stages: Sequence[Stage], torque: Quantity | None) -> Iterator[StageFault]:
    """Yield what makes no sense in the order of stages, and, if nothing is said of the last one, where it ends."""
    found = list(_in_order(stages, torque))
    yield from found
    yield from (each for each in _ends(stages, torque) if all(each.place != other.place for other in found))


_WHOLE_TURN = 2 * math.pi + 0.01
"""rad: what is loosened further at the end only hangs on its thread."""


def _in_order(stages: Sequence[Stage], torque: Quantity | None) -> Iterator[StageFault]:
    before, shown = 0.0, ""
    angled = False
    for index, stage in enumerate(stages):
        words = stage.quantity.text if stage.quantity else "snug"
        if stage.kind is StageKind.SNUG and index:
            yield StageFault(index, "'snug' comes after a stage that is tighter", "put it first")
        if stage.kind is StageKind.ANGLE:
            if not index and torque is None:
                yield StageFault(index, f"the angle {words} starts from nothing", "put 'snug' or a torque before it")
            angled = True
            continue
        if stage.kind is StageKind.BACK:
            if not index:
                yield StageFault(index, f"'{words}' comes first, when nothing is tight", "put a torque before it")
            elif index == len(stages) - 1 and stage.quantity and (si(stage.quantity)[0] or 0.0) > _WHOLE_TURN:
                yield StageFault(index, f"after '{words}' nothing is tight", "a last stage goes back one turn at most")
            before, angled = 0.0, False
            continue
        if angled:
            yield StageFault(index, f"'{words}' comes after an angle", "a torque cannot be read after an angle")
            continue
        if stage.kind is StageKind.SHARE and torque is None:
            yield StageFault(index, f"{words} of no torque", "give the fastener its 'torque'")
            continue
        aim = torque_of(stage, torque)
        if aim is None:
            continue
        _, most = si(aim)
        if most is not None and most < before:
            yield StageFault(index, f"the stage {words} is lower than the one before, {shown}", "stages must increase")
        before, shown = most or before, words


def _last(stages: Sequence[Stage]) -> Stage | None:
    """Return the last stage that is no angle; None without one, after `back`, or with only snug before an angle."""
    if ends_back(stages):
        return None
    last = next((stage for stage in reversed(stages) if stage.kind is not StageKind.ANGLE), None)
    return None if last is not None and last.kind is StageKind.SNUG and by_angle(stages) else last


def disagree(stages: Sequence[Stage], torque: Quantity | None) -> bool:
    """Tell whether the last stage and the torque are not the same."""
    last = _last(stages)
    if last is None or torque is None:
        return False
    aim = torque_of(last, torque)
    return aim is None or si(aim) != si(torque)


def _ends(stages: Sequence[Stage], torque: Quantity | None) -> Iterator[StageFault]:
    """Yield the fault of a last stage that leaves the torque unreached, or passes it."""
    last = _last(stages)
    if last is not None and torque is not None and disagree(stages, torque):
        words = last.quantity.text if last.quantity else "snug"
        message = f"the last stage is {words}, and the torque is {torque.text}"
        hint = "look up which is right: the stages end with the torque"
        yield StageFault(list(stages).index(last), message, hint, between=True)
