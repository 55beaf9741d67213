"""Sentences on how fasteners are tightened and loosened, in English."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Collection, Mapping, Sequence

from putback.joints.friction import Film
from putback.joints.stages import Stage, StageKind, torque_of
from putback.model.fastened import condition_of, dial_of
from putback.model.library import Library
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.terms import Ref
from putback.model.verbs.pieces import Tighten
from putback.source.grammar import number
from putback.units import Quantity, digits, show
from putback.words.pieces import Phrase, Piece, Role, phrase

FILMS = {
    Film.DRY: "clean and dry",
    Film.OILED: "oiled",
    Film.GREASED: "greased",
    Film.WAXED: "waxed",
    Film.ANTI_SEIZE: "with anti-seize",
    Film.THREAD_LOCKER: "with thread-locker",
    Film.SEALANT: "with sealant",
}
"""Thread conditions in words, behind "thread"."""


class Tightening:
    """What a catalogue of sentences says of fasteners."""

    things: Mapping[str, AnyThing]
    library: Library

    @abstractmethod
    def quantity(self, quantity: Quantity) -> str:
        """Return a quantity in the guide's units."""

    @abstractmethod
    def all_of(
        self,
        refs: Sequence[Ref],
        count: int | None = None,
        article: str = "the",
        facts: bool = False,
        at: Sequence[Ref] = (),
    ) -> Phrase:
        """Return things as a list."""

    def torque(self, thing: Fastener, stated: Quantity | None = None) -> str | None:
        """Return the torque of a fastener in the guide's units."""
        quantity = stated or thing.torque
        return self.quantity(quantity) if quantity else None

    def threads(self, thing: Fastener) -> str | None:
        """Return the state of the thread that the torque is meant for: `thread greased`, `threads clean and dry`."""
        film = self.film(thing)
        return f"thread{'s' if thing.count > 1 else ''} {film}" if film else None

    def film(self, thing: Fastener) -> str | None:
        """Return the same without the word "thread": `greased`, `clean and dry`."""
        film = condition_of(thing, self.library).film
        return FILMS[film] if film else None

    def stages(self, thing: Fastener) -> Phrase:
        """Return the stages of tightening: `snug, then to 14 N·m (10 lbf·ft), then 90° further`."""
        last = len(thing.stages) - 1
        result: Phrase = ()
        for index, stage in enumerate(thing.stages):
            before = "" if index == 0 else ", then " if index == last else ", "
            result = phrase(*result, before, self.stage(stage, thing.torque))
        if thing.passes > 1:
            result = phrase(*result, f", the last {number(thing.passes)} times round")
        return result

    def stage(self, stage: Stage, torque: Quantity | None) -> Phrase:
        """Return one stage of tightening: `snug`, `to 14 N·m (10 lbf·ft)`, `90° further`."""
        if stage.kind is StageKind.ANGLE and stage.quantity:
            return (Piece(self.quantity(stage.quantity), Role.TORQUE), Piece(" further"))
        aim = torque_of(stage, torque)
        return phrase("to ", Piece(self.quantity(aim), Role.TORQUE)) if aim else phrase(stage.kind.value)

    def tighten(self, action: Tighten, tools: Sequence[Ref] = (), stays_in: Collection[str] = ()) -> Phrase:
        """`Tighten the six cover screws crosswise to 1.8 N·m (16 lbf·in), threads clean and dry.`"""
        groups = [self.things.get(ref.name) for ref in action.things]
        if len(groups) > 1 and any(isinstance(group, Fastener) and group.stages for group in groups):
            alone = [self.tighten(action._replace(things=(ref,)), tools, stays_in) for ref in action.things]
            return phrase(*(phrase(" " if index else "", each) for index, each in enumerate(alone)))
        result: Phrase = ()
        for index, ref in enumerate(action.things):
            between = "" if index == 0 else " and " if index == len(action.things) - 1 else ", "
            result = phrase(*result, between, self.tightened(ref, action, tools, stays_in))
        return phrase("Tighten ", result, ".", *(self.dialled(ref, action, tools) for ref in action.things))

    def dialled(self, ref: Ref, action: Tighten, tools: Sequence[Ref]) -> Phrase:
        """` With the 13 mm crowfoot in line, set the torque wrench (lever 380 mm) to 30 N·m (22 lbf·ft).`"""
        thing = self.things.get(ref.name)
        if not isinstance(thing, Fastener):
            return ()
        torque = action.torque or thing.last_torque
        dial = dial_of(thing, torque, self.library, tools) if torque else None
        if dial is None or dial.wrench.lever is None:
            return ()
        how = f"at {digits(dial.angle)}° to the wrench" if dial.angle else "in line with the wrench"
        wrench = f"{dial.wrench.name} (lever {show(dial.wrench.lever)})"
        setting = Piece(self.quantity(dial.setting), Role.TORQUE)
        return phrase(
            f" With the {dial.through.name} {how}, set the {wrench} to ", setting, ": the fastener then has its torque."
        )

    def tightened(self, ref: Ref, action: Tighten, tools: Sequence[Ref] = (), stays_in: Collection[str] = ()) -> Phrase:
        """Return one group with how it is tightened."""
        thing = self.things.get(ref.name)
        body = self.all_of([ref], action.count, at=action.at)
        if not isinstance(thing, Fastener):
            return body
        some = action.count is not None and action.count < thing.count
        order = f" {thing.order}" if thing.order and not some else ""
        torque = self.torque(thing, action.torque)
        threads = None if ref.name in stays_in else self.threads(thing)
        if thing.stages and action.torque is None:
            body = phrase(
                body,
                f"{order} in stages{', each once round all of them' if thing.count > 2 and not some else ''}: ",
                self.stages(thing),
            )
        elif torque:
            around = f", {number(thing.passes)} times round" if thing.passes > 1 and not some else ""
            # What stands out is what is set on the wrench.
            shown = Role.WORDS if self.dialled(ref, action, tools) else Role.TORQUE
            body = phrase(body, f"{order} to ", Piece(torque, shown), around)
        elif thing.by_hand:
            return phrase(body, f"{order} by hand: {thing.by_hand}")
        else:
            return phrase(body, order, f": {thing.no_torque}" if thing.no_torque else "")
        return phrase(body, f", {threads}" if threads else "")

    def gently(self, things: Sequence[Ref]) -> str:
        """Return how fasteners come loose whose part may warp: ` in the opposite order, half a turn at a time`."""
        for ref in things:
            thing = self.things.get(ref.name)
            if isinstance(thing, Fastener) and thing.count > 1:
                for held in thing.holds:
                    part = self.things.get(held.name)
                    if isinstance(part, Part) and part.warps:
                        order = "in the opposite order, " if thing.order or thing.sequence else ""
                        return f"{order}half a turn at a time"
        return ""
