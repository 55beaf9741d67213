"""Flat sentences on how fasteners are tightened, turned and held."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from putback.joints.friction import Film
from putback.joints.hands import ways
from putback.joints.stages import Stage, StageKind, torque_of
from putback.model.build_order import MOST_DRAWN
from putback.model.fastened import condition_of
from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener
from putback.model.said import source_of
from putback.model.terms import Ref
from putback.model.turned import held_at, holding_tool, turning_tool
from putback.model.verb import Action
from putback.model.verbs.pieces import Loosen, Remove, Replace, Tighten
from putback.units import Quantity
from putback.words.fact import FactKind
from putback.words.facts import facts_of, warping
from putback.words.pieces import Phrase, Piece, Role, phrase
from putback.words.plain.naming import PlainNames
from putback.words.plain.runs import in_a_row, upper
from putback.words.plain.turns import FILMS, ONE_WAY_ONLY, ORDERS, PARTS_OF_A_TURN, WAYS


class PlainTurning(PlainNames):
    """What is said of torques, stages, orders, threads and ways to turn."""

    def torque(self, thing: Fastener, stated: Quantity | None = None) -> str | None:
        """Return the torque of a fastener in the guide's units."""
        quantity = stated or thing.torque
        return self.quantity(quantity) if quantity else None

    def stands_out(self, quantity: Quantity) -> Phrase:
        """Return a torque, or how far something is tightened, so that it stands out."""
        return (Piece(self.turned(quantity), Role.TORQUE),)

    def turned(self, angle: Quantity) -> str:
        """Return how far something is turned; another quantity as it is."""
        if angle.unit != "turn" or angle.also or angle.low is None or angle.high is None:
            return self.quantity(angle)
        if angle.nominal in PARTS_OF_A_TURN:
            return self.telling.told(PARTS_OF_A_TURN[angle.nominal])
        if angle.nominal is not None and angle.nominal == angle.nominal.to_integral_value():
            return self.say_count("turn", "{count} turn", "{count} turns", int(angle.nominal))
        number, _, _ = self.quantity(angle).rpartition("\N{NO-BREAK SPACE}")
        # Translators: turns that are no whole number; {number} such as "1.5–3".
        return self.say("turn", "{number} turns", number=number)

    def way(self, way: str) -> str:
        """Return a way to turn."""
        return self.telling.told(WAYS[way]) if way in WAYS else way

    def one_way(self, way: str) -> str:
        """Return the same where the other way does damage."""
        return self.telling.told(ONE_WAY_ONLY[way]) if way in ONE_WAY_ONLY else way

    # Threads.

    def film(self, thing: Fastener) -> str | None:
        """Return the state of the thread that its torque is meant for."""
        film = condition_of(thing, self.library).film
        return self.telling.told(FILMS[film]) if film else None

    def thread_state(self, thing: Fastener) -> str | None:
        """Return the state of the thread as a table says it: what goes on it counts, and else what the file says."""
        stated, film = thing.condition_text, condition_of(thing, self.library).film
        if stated is None or film is None:
            return self.film(thing) or stated
        said = self.telling.told(FILMS[film])
        return said if source_of(stated).lower() in (film.value.lower(), "clean and dry") else f"{said} ({stated})"

    def threads(self, film: Film) -> str:
        """Return the state of threads, beside other facts."""
        # Translators: stands in a row of facts; {film} such as "clean and dry", "with thread-locker".
        return self.say("tighten", "threads: {film}", film=self.telling.told(FILMS[film]))

    def left_hand(self, key: str, *, out: bool | None) -> str:
        """Return the ways to turn a left-hand thread; with None for `out`, both."""
        thing = self.things.get(key)
        name = self.name_of(thing) if thing else key
        loosen, tighten = (self.way(way) for way in ways(left_hand=True))
        if out is None:
            return self.say(
                "left-hand",
                "{thing}: left-hand thread – to loosen {loosen}, to tighten {tighten}",
                thing=name,
                loosen=loosen,
                tighten=tighten,
            )
        if out:
            return self.say("left-hand", "{thing}: left-hand thread – to loosen {loosen}", thing=name, loosen=loosen)
        return self.say("left-hand", "{thing}: left-hand thread – to tighten {tighten}", thing=name, tighten=tighten)

    def hands(self, step: Step) -> Iterator[str]:
        """Yield the way in which the left-hand threads of a step are turned, a sentence each."""
        turned: dict[str, bool | None] = {}
        for fact in facts_of(step, self.things, self.library):
            if fact.kind in (FactKind.UNSCREWED, FactKind.SCREWED_IN):
                key = str(fact.value)
                turned[key] = None if key in turned else fact.kind is FactKind.UNSCREWED
        for key, out in turned.items():
            yield f"{upper(self.left_hand(key, out=out))}."

    def both_hands(self) -> str:
        """Return what is said of a left-hand thread where no step turns it."""
        return self.say("left-hand", "Left-hand thread: clockwise to loosen, anticlockwise to tighten.")

    # Orders.

    def order(self, thing: Fastener) -> str | None:
        """Return the order in which a group is tightened."""
        found = list(filter(None, (self._own_order(thing), self._after(thing))))
        return ", ".join(found) if found else None

    def _after(self, thing: Fastener) -> str | None:
        before = self.things.get(thing.tightened_after.name) if thing.tightened_after else None
        # Translators: tightened after another group of fasteners, whose name is {thing}.
        return self.say("order", "after: {thing}", thing=self.name_of(before)) if before else None

    def _own_order(self, thing: Fastener) -> str | None:
        if thing.rule is not None:
            return self.telling.told(ORDERS[thing.rule])
        if thing.sequence and thing.places is not None and thing.count <= MOST_DRAWN:
            return self.say("order", "in the order of the drawing")
        if thing.order or not thing.sequence:
            return thing.order
        return self.say("order", "in the order {numbers}", numbers=", ".join(map(str, thing.sequence)))

    def gently(self, things: Sequence[Ref]) -> str:
        """Return how fasteners come loose whose part may warp; nothing for others."""
        thing = warping(tuple(things), self.things)
        if thing is None:
            return ""
        if self.order(thing):
            return self.say("loosen", "in the opposite order, half a turn at a time")
        return self.say("loosen", "half a turn at a time")

    # Stages.

    def rounds(self, thing: Fastener) -> str | None:
        """Return how often all pieces are tightened; None for once."""
        if thing.passes < 2:
            return None
        return self.say_count("tighten", "{count} time round", "{count} times round", thing.passes)

    def stages(self, thing: Fastener) -> Phrase:
        """Return the stages of tightening, one after another."""
        items: list[Phrase | str] = []
        for number, stage in enumerate(thing.stages, 1):
            aim = self.stage(stage, thing.torque)
            # Translators: stages of tightening stand in a row: "1st: 20 N·m, 2nd: further by 90°".
            items.append(self.say_phrase("stage", "{number}: {aim}", number=self.telling.number(number), aim=aim))
        if thing.passes > 1:
            items.append(
                self.say_count(
                    "stage", "the last stage {count} time round", "the last stage {count} times round", thing.passes
                )
            )
        return in_a_row(items)

    def stage(self, stage: Stage, torque: Quantity | None) -> Phrase:
        """Return one stage of tightening."""
        if stage.kind is StageKind.ANGLE and stage.quantity:
            # Translators: tightened further by an angle.
            return self.say_phrase("stage", "further by {angle}", angle=self.stands_out(stage.quantity))
        if stage.kind is StageKind.BACK and stage.quantity:
            # Translators: loosened again by an angle.
            return self.say_phrase("stage", "back by {angle}", angle=self.stands_out(stage.quantity))
        if aim := torque_of(stage, torque):
            return self.stands_out(aim)
        if stage.quantity:
            return phrase(self.quantity(stage.quantity))
        # Translators: tightened until the parts touch, and no more.
        return phrase(self.say("stage", "snug"))

    def by_hand(self, thing: Fastener) -> str:
        """Return how a fastener is tightened by hand."""
        further = thing.past_hand_tight
        if further:
            return self.say(
                "by-hand",
                "by hand: {how}; then further by {angle}",
                how=thing.by_hand or "",
                angle=self.turned(further),
            )
        # Translators: tightened by hand; {how} are the author's words: "until it stops".
        return self.say("by-hand", "by hand: {how}", how=thing.by_hand or "")

    def past_hand_tight(self, thing: Fastener) -> Phrase:
        """Return how far a fastener is turned past hand-tight."""
        assert thing.past_hand_tight is not None
        return self.say_phrase("by-hand", "{angle} past hand-tight", angle=self.stands_out(thing.past_hand_tight))

    def how_tight(self, thing: Fastener) -> Phrase:
        """Return how a fastener is tightened, for a table."""
        torque = self.torque(thing)
        if thing.stages:
            return in_a_row(filter(None, (self.stages(thing), self.order(thing) or "")))
        if torque:
            tight: Phrase = (Piece(torque, Role.TORQUE),)
            return in_a_row(filter(None, (tight, self.rounds(thing) or "", self.order(thing) or "")))
        if thing.past_hand_tight and not thing.by_hand:
            return in_a_row(filter(None, (self.past_hand_tight(thing), self.order(thing) or "")))
        return phrase(self.by_hand(thing) if thing.by_hand else thing.no_torque or "–")

    def joint(self, thing: Fastener, held: Sequence[str], base: str | None) -> str:
        """Return what a fastener holds together; nothing when that is not said."""
        names = self.telling.listed(held)
        if names and base:
            # Translators: in a table, of a fastener that holds some parts to another.
            return self.say("joint", "{parts} → {base}", parts=names, base=base)
        return names or (base or "")

    # The other hand.

    def holding(self, action: Action, tools: Sequence[Ref], gone: Collection[str] = ()) -> Iterator[Phrase]:
        """Yield what is held while a step turns its fasteners, a sentence each; what is `gone` is not held."""
        if not isinstance(action, Remove | Replace | Loosen | Tighten):
            return
        for thing, held in held_at(action.things, self.things, comes_out=isinstance(action, Remove | Replace)):
            if held.key not in gone:
                yield self._hold(action, thing, held, tools)

    def _hold(
        self, action: Remove | Replace | Loosen | Tighten, thing: Fastener, held: AnyThing, tools: Sequence[Ref]
    ) -> Phrase:
        pieces = action.count or len(action.at) or thing.count
        tool, other = holding_tool(held, thing, self.library, tools), turning_tool(thing, self.library)
        name = self._held_pieces(action, held, pieces)
        drive = self.driven(held) if isinstance(held, Fastener) else ""
        if thing.counterhold is not None and thing.counterhold.name == held.key and other is not None and tool:
            return self.say_phrase(
                "hold",
                "Hold while turning: {held} – with: {tool}. Turn: {thing} – with: {other}.",
                held=name,
                tool=tool.name,
                thing=self.called(thing, pieces),
                other=other.name,
            )
        if tool or drive:
            means = tool.name if tool else drive
            # Translators: what is held while something else is turned, and with which tool or at which hexagon.
            return self.say_phrase("hold", "Hold while turning: {held} – with: {tool}.", held=name, tool=means)
        # Translators: what is held while something else is turned.
        return self.say_phrase("hold", "Hold while turning: {held}.", held=name)

    def _held_pieces(self, action: Remove | Replace | Loosen | Tighten, held: AnyThing, pieces: int) -> Phrase:
        places = [ref.name for ref in action.at]
        if not (isinstance(held, Fastener) and places and all(place in held.positions for place in places)):
            words = self.called(held, pieces) if isinstance(held, Fastener) else held.name
            return (Piece(words, Role.THING, held.key),)
        name = Piece(self.at_places(held, len(places)), Role.THING, held.key)
        return self.say_count_phrase(
            "thing",
            "{things} – place: {places}",
            "{things} – places: {places}",
            len(places),
            things=name,
            places=self.words(places),
        )
