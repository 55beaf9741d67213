"""Flat sentences of steps that tighten: what, how tight, in which order, with what on the wrench."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from putback.joints.stages import StageKind
from putback.model.fastened import condition_of
from putback.model.machine import Fastener
from putback.model.terms import Ref
from putback.model.turned import dial_of, set_to
from putback.model.verbs.pieces import Tighten
from putback.units import Quantity, digits
from putback.words.pieces import Phrase, Piece, Role, phrase
from putback.words.plain.runs import in_a_row, sentences
from putback.words.plain.turning import PlainTurning


class PlainTightening(PlainTurning):
    """What is said of a step that tightens."""

    def tighten(self, action: Tighten, tools: Sequence[Ref] = (), stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentences of a step that tightens, a group after another."""
        each = [self._group(ref, action, tools, stays_in) for ref in action.things]
        return sentences([*each, *(self._dialled(ref, action, tools) for ref in action.things)])

    def _group(self, ref: Ref, action: Tighten, tools: Sequence[Ref], stays_in: Collection[str]) -> Phrase:
        thing = self.things.get(ref.name)
        name = self.all_of([ref], action.count, at=action.at)
        how = in_a_row(self._how(thing, action, stays_in)) if isinstance(thing, Fastener) else ()
        if action.once_more:
            if how:
                # Translators: {how} is a row of facts: torque, order, state of the threads.
                return self.say_phrase("tighten", "Tighten once more: {things} – {how}.", things=name, how=how)
            return self.say_phrase("tighten", "Tighten once more: {things}.", things=name)
        if how and isinstance(thing, Fastener) and action.is_stage(thing):
            # Translators: to less than they are due, until a later step; {how} is a row of facts.
            return self.say_phrase("tighten", "Tighten for now: {things} – {how}.", things=name, how=how)
        if how:
            # Translators: {how} is a row of facts: torque, order, state of the threads.
            return self.say_phrase("tighten", "Tighten: {things} – {how}.", things=name, how=how)
        return self.say_phrase("tighten", "Tighten: {things}.", things=name)

    def _how(self, thing: Fastener, action: Tighten, stays_in: Collection[str]) -> Iterator[Phrase | str]:
        """Yield how a group is tightened, a clause each."""
        pieces = action.count or len(action.at) or thing.count
        order = self.order(thing) if pieces >= thing.count else None
        if action.once_more and (shown := action.shown(thing)):
            yield from self._settled(thing, shown, order, pieces)
            return
        threaded = False
        if action.stage is not None:
            yield from self._one_stage(thing, action)
        elif thing.stages and action.torque is None:
            yield self.stages(thing)
            if thing.count > 2 and order is not None:
                yield self.say("tighten", "each stage once round all of them")
            threaded = True
        elif torque := self.torque(thing, action.torque):
            yield (Piece(torque, Role.TORQUE),)
            if pieces >= thing.count and not action.is_stage(thing) and (rounds := self.rounds(thing)):
                yield rounds
            threaded = True
        elif thing.by_hand:
            yield self.by_hand(thing)
        elif thing.past_hand_tight:
            yield self.past_hand_tight(thing)
            threaded = True
        elif thing.no_torque:
            yield thing.no_torque
        if order:
            yield order
        film = condition_of(thing, self.library).film
        if threaded and film and thing.key not in stays_in:
            yield self.threads(film)

    def _one_stage(self, thing: Fastener, action: Tighten) -> Iterator[Phrase | str]:
        """Yield to which stage a step tightens."""
        assert action.stage is not None
        if action.stage.kind is StageKind.SHARE and action.stage.quantity and action.is_stage(thing):
            aim, share = self.stage(action.stage, thing.due_torque), self.quantity(action.stage.quantity)
            # Translators: a share of the torque, such as "12 N·m (50 % of the torque)".
            yield self.say_phrase("stage", "{torque} ({share} of the torque)", torque=aim, share=share)
        else:
            yield self.stage(action.stage, thing.due_torque)

    def _settled(self, thing: Fastener, shown: Quantity, order: str | None, pieces: int) -> Iterator[Phrase | str]:
        """Yield how what has settled is tightened again."""
        if order:
            yield order
        if pieces > 1:
            # Translators: bolts are tightened again one after another.
            yield self.say("tighten", "one at a time")
        if thing.slacken:
            yield self.say("tighten", "first loosen by {angle}", angle=self.quantity(thing.slacken))
        yield self.say_phrase("tighten", "in one pull to {torque}", torque=self.stands_out(shown))

    def _dialled(self, ref: Ref, action: Tighten, tools: Sequence[Ref]) -> Phrase:
        """Return what is set on the wrench, where that is not the torque."""
        thing = self.things.get(ref.name)
        torque = action.shown(thing) if isinstance(thing, Fastener) else None
        if not isinstance(thing, Fastener) or torque is None:
            return ()
        dial = dial_of(thing, torque, self.library, tools)
        if dial is None or dial.wrench.lever is None:
            return self._running(thing, torque, staged=bool(thing.stages) and action.torque is None)
        # Translators: a crowfoot or an extension on a torque wrench changes what must be set on the wrench.
        return self.say_phrase(
            "dial",
            "Set on the wrench: {torque} – {wrench} (lever {lever}), with: {through}, {angle}. The fastener then has "
            "its torque.",
            wrench=dial.wrench.name,
            lever=self.as_marked(dial.wrench.lever),
            through=dial.through.name,
            angle=self.at_angle(dial.angle),
            torque=(Piece(self.quantity(dial.setting), Role.TORQUE),),
        )

    def at_angle(self, degrees: float) -> str:
        """Return how a crowfoot is held by the wrench, by the angle between the two, degrees."""
        if not degrees:
            # Translators: of a crowfoot on a torque wrench.
            return self.say("dial", "in line with the wrench")
        return self.say("dial", "at {angle}° to the wrench", angle=self.telling.number(float(digits(degrees))))

    def _running(self, thing: Fastener, torque: Quantity, *, staged: bool) -> Phrase:
        """Return what is set on the wrench for a self-locking nut."""
        if thing.running_torque is None:
            return ()
        running = self.quantity(thing.running_torque)
        setting = phrase(Piece(self.quantity(set_to(thing, torque)), Role.TORQUE))
        if staged:
            # Translators: the torque that a self-locking nut needs before it seats is added at each stage.
            return self.say_phrase(
                "dial",
                "Before it seats, turning takes {running}. Set the wrench that much higher at each stage, at the last "
                "to {torque}.",
                running=running,
                torque=setting,
            )
        # Translators: the torque that a self-locking nut needs before it seats is added to what is set on the wrench.
        return self.say_phrase(
            "dial",
            "Before it seats, turning takes {running}. Set on the wrench: {torque}.",
            running=running,
            torque=setting,
        )
