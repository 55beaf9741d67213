"""Sentences on how fasteners are tightened and loosened, in English."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from decimal import Decimal

from putback.joints.friction import Film
from putback.joints.hands import ways
from putback.joints.patterns import Rule
from putback.joints.stages import Stage, StageKind, torque_of
from putback.model.build_order import MOST_DRAWN
from putback.model.called import named, verb_s
from putback.model.fastened import condition_of
from putback.model.job import Step
from putback.model.machine import Fastener
from putback.model.terms import Ref
from putback.model.turned import dial_of, set_to
from putback.model.verbs.pieces import Tighten
from putback.source.grammar import number
from putback.units import Quantity, show
from putback.words.english.seats import seat
from putback.words.english.things import Things, at_angle, joined, sentence
from putback.words.fact import FactKind
from putback.words.facts import facts_of, warping
from putback.words.pieces import Phrase, Piece, Role, as_text, phrase

FILMS = {
    Film.DRY: "clean and dry",
    Film.OILED: "oiled",
    Film.GREASED: "greased",
    Film.WAXED: "waxed",
    Film.ANTI_SEIZE: "with anti-seize",
    Film.MOLY: "with MoS₂",
    Film.AS_RECEIVED: "as received",
    Film.THREAD_LOCKER: "with thread-locker",
    Film.SEALANT: "with sealant",
}
"""Thread conditions in words, after "thread"."""


ORDERS = {
    Rule.CROSSWISE: "crosswise",
    Rule.FROM_THE_MIDDLE: "from the middle outwards",
    Rule.IN_TURN: "in turn",
}
"""Orders that are worked out from the places."""


class Tightening(Things):
    """What is said of fasteners."""

    def torque(self, thing: Fastener, stated: Quantity | None = None) -> str | None:
        """Return the torque of a fastener in the guide's units."""
        quantity = stated or thing.torque
        return self.quantity(quantity) if quantity else None

    def turned(self, angle: Quantity) -> str:
        """`two turns` · `half a turn` · `2 to 3 turns` · `90°`."""
        if angle.unit != "turn" or angle.low is None or angle.high is None or angle.also:
            return self.quantity(angle)
        if angle.nominal is None:
            ends = self.quantity(angle).split("\N{NO-BREAK SPACE}")[0].replace("–", " to ")
            return f"{ends} turn{'' if angle.high <= 1 else 's'}"
        if angle.nominal in _PARTS_OF_A_TURN:
            return _PARTS_OF_A_TURN[angle.nominal]
        whole = angle.nominal == angle.nominal.to_integral_value()
        count = number(int(angle.nominal)) if whole else self.quantity(angle).split("\N{NO-BREAK SPACE}")[0]
        return f"{count} turn{'' if angle.nominal == 1 else 's'}"

    def by_hand(self, thing: Fastener) -> str:
        """`by hand until the gasket touches, then three quarters of a turn further`."""
        further = f", then {self.turned(thing.past_hand_tight)} further" if thing.past_hand_tight else ""
        return f"by hand{until(thing.by_hand or '')}{further}"

    def left_hand(self, key: str, *, out: bool | None) -> str:
        """`Left-hand thread: turn the fan nut clockwise to loosen it`; with None for `out`, both ways."""
        thing = self.things.get(key)
        name, them = (named(thing), verb_s(thing, "it", "them")) if thing else (key, "it")
        loosen, tighten = map(self.own, ways(left_hand=True))
        said = [] if out is False else [f"{loosen} to loosen {them}"]
        said += [] if out else [f"{tighten} to tighten {them}"]
        return f"left-hand thread: turn the {name} {', '.join(said)}"

    def hands(self, step: Step) -> str:
        """Return the way in which the left-hand threads of a step are turned, a sentence each; nothing for others."""
        turned: dict[str, bool | None] = {}
        for fact in facts_of(step, self.things, self.library):
            if fact.kind in (FactKind.UNSCREWED, FactKind.SCREWED_IN):
                key = str(fact.value)
                turned[key] = None if key in turned else fact.kind is FactKind.UNSCREWED
        return "".join(f" {sentence(self.left_hand(key, out=out))}" for key, out in turned.items())

    def threads(self, thing: Fastener, pieces: int) -> str | None:
        """Return the state of the thread that the torque is for: `thread greased`, `with sealant on the threads`."""
        film = condition_of(thing, self.library).film
        return threads(film, pieces) if film else None

    def film(self, thing: Fastener) -> str | None:
        """Return the same without the word "thread": `greased`, `clean and dry`."""
        film = condition_of(thing, self.library).film
        return FILMS[film] if film else None

    def thread_state(self, thing: Fastener) -> str | None:
        """Return the state of the thread as a table says it: what goes on it counts, and else what the file says."""
        stated, film = thing.condition_text, self.film(thing)
        if stated is None or film is None:
            return film or stated
        return film if film in (stated, f"clean and {stated}", f"with {stated}") else f"{film} ({stated})"

    def times_round(self, thing: Fastener) -> str:
        """Return how often all pieces are tightened: `, twice round`; nothing for once."""
        return f", {times(thing.passes)} round" if thing.passes > 1 else ""

    def stages(self, thing: Fastener) -> Phrase:
        """Return the stages of tightening: `snug, then to 14 N·m (10 lbf·ft), then 90° further`."""
        last = len(thing.stages) - 1
        result: Phrase = ()
        for index, stage in enumerate(thing.stages):
            before = "" if index == 0 else ", then " if index == last else ", "
            result = phrase(*result, before, self.stage(stage, thing.torque))
        if thing.passes > 1:
            result = phrase(*result, f", the last stage{self.times_round(thing).removeprefix(',')}")
        return result

    def stage(self, stage: Stage, torque: Quantity | None) -> Phrase:
        """Return one stage of tightening: `snug`, `to 14 N·m (10 lbf·ft)`, `90° further`."""
        if stage.kind is StageKind.ANGLE and stage.quantity:
            return (Piece(self.quantity(stage.quantity), Role.TORQUE), Piece(" further"))
        if stage.kind is StageKind.BACK and stage.quantity:
            return phrase("back by ", Piece(self.quantity(stage.quantity), Role.TORQUE))
        aim = torque_of(stage, torque)
        if aim:
            return phrase("to ", Piece(self.quantity(aim), Role.TORQUE))
        return phrase(f"to {self.quantity(stage.quantity)}" if stage.quantity else "snug")

    def tighten(self, action: Tighten, tools: Sequence[Ref] = (), stays_in: Collection[str] = ()) -> Phrase:
        """`Tighten the six cover screws crosswise to 1.8 N·m (16 lbf·in), threads clean and dry.`"""
        groups = [self.things.get(ref.name) for ref in action.things]
        if len(groups) > 1 and any(isinstance(group, Fastener) and group.stages for group in groups):
            alone = [self.tighten(action._replace(things=(ref,)), tools, stays_in) for ref in action.things]
            return phrase(*(phrase(" " if index else "", each) for index, each in enumerate(alone)))
        result: Phrase = ()
        for index, ref in enumerate(action.things):
            comma = "," if ", " in as_text(result) else ""
            between = "" if index == 0 else f"{comma} and " if index == len(action.things) - 1 else ", "
            result = phrase(*result, between, self.tightened(ref, action, tools, stays_in))
        return phrase("Tighten ", result, ".", *(self.dialled(ref, action, tools) for ref in action.things))

    def dialled(self, ref: Ref, action: Tighten, tools: Sequence[Ref]) -> Phrase:
        """` With the 13 mm crowfoot in line, set the torque wrench (lever 380 mm) to 30 N·m (22 lbf·ft).`"""
        thing = self.things.get(ref.name)
        if not isinstance(thing, Fastener):
            return ()
        torque = action.shown(thing)
        dial = dial_of(thing, torque, self.library, tools) if torque else None
        if dial is None or dial.wrench.lever is None:
            return self._running(thing, torque, staged=bool(thing.stages) and action.torque is None)
        how = at_angle(dial.angle)
        wrench = f"{dial.wrench.name} (lever {show(dial.wrench.lever)})"
        setting = Piece(self.quantity(dial.setting), Role.TORQUE)
        return phrase(
            f" With the {dial.through.name} {how}, set the {wrench} to ", setting, ": the fastener then has its torque."
        )

    def _running(self, thing: Fastener, torque: Quantity | None, *, staged: bool) -> Phrase:
        """` It takes 3 N·m (27 lbf·in) to turn it before it seats: set the torque wrench to 28 N·m (21 lbf·ft).`"""
        if thing.running_torque is None or torque is None:
            return ()
        them = "it before it seats" if thing.count == 1 else "one before it seats"
        how = "that much higher at each stage, at the last to " if staged else "to "
        setting = Piece(self.quantity(set_to(thing, torque)), Role.TORQUE)
        return phrase(
            f" It takes {self.quantity(thing.running_torque)} to turn {them}: set the torque wrench {how}", setting, "."
        )

    def tightened(self, ref: Ref, action: Tighten, tools: Sequence[Ref] = (), stays_in: Collection[str] = ()) -> Phrase:
        """Return one group with how it is tightened."""
        thing = self.things.get(ref.name)
        body = self.all_of([ref], action.count, at=action.at)
        if not isinstance(thing, Fastener):
            return body
        pieces = action.count or len(action.at) or thing.count
        some = pieces < thing.count
        words = self.order(thing)
        order = f" {words}" if words and not some else ""
        torque = self.torque(thing, action.torque)
        threads = None if ref.name in stays_in else self.threads(thing, pieces)
        if action.once_more and (shown := action.shown(thing)):
            return phrase(body, self.slackened_first(thing, order, pieces), Piece(self.quantity(shown), Role.TORQUE))
        body = phrase(body, " once more" if action.once_more else None)
        if action.stage is not None:
            return phrase(body, order, self.one_stage(thing, action, pieces))
        if thing.stages and action.torque is None:
            body = phrase(
                body,
                f"{order} in stages{', each once round all of them' if thing.count > 2 and not some else ''}: ",
                self.stages(thing),
            )
        elif torque:
            around = " for now" if action.is_stage(thing) else "" if some else self.times_round(thing)
            late = order.startswith((" before ", " after "))
            early, order = ("", f",{order}") if late else (order, "")
            if (after := self._after(thing)) and early.endswith(f", {after}"):
                early, order = early.removesuffix(f", {after}"), f", {after}"
            body = phrase(body, f"{early} to ", Piece(torque, Role.TORQUE), order, around)
        elif thing.by_hand:
            return phrase(body, f"{order} {self.by_hand(thing)}")
        elif thing.past_hand_tight:
            body = phrase(body, f"{order} ", Piece(self.turned(thing.past_hand_tight), Role.TORQUE), " past hand-tight")
        else:
            return phrase(body, order, until(thing.no_torque) if thing.no_torque else "")
        return phrase(body, f", {threads}" if threads else "")

    def slackened_first(self, thing: Fastener, order: str, pieces: int) -> str:
        """Return how what has settled is tightened: ` once more, one at a time: loosen each by 90°, then to `."""
        it = "each" if pieces > 1 else "it"
        turn = f"loosen {it} by {self.quantity(thing.slacken)}, then tighten it" if thing.slacken else f"tighten {it}"
        one = f" once more{order}, one at a time" if pieces > 1 else " once more"
        return f"{one}: {turn} in one pull to "

    def one_stage(self, thing: Fastener, action: Tighten, pieces: int) -> Phrase:
        """Return a stage to which a step tightens: ` until they are snug, for now`, ` 90° further`."""
        assert action.stage is not None
        if action.stage.kind is StageKind.SNUG:
            return phrase(f" until {'it is' if pieces == 1 else 'they are'} snug, for now")
        later = " for now" if action.is_stage(thing) else ""
        share = f", {self.quantity(action.stage.quantity)} of the torque," if later and action.stage.quantity else ""
        return phrase(" ", *self.stage(action.stage, thing.due_torque), share, later)

    def gently(self, things: Sequence[Ref]) -> str:
        """Return how fasteners come loose whose part may warp: `in the opposite order, half a turn at a time`."""
        thing = warping(tuple(things), self.things)
        if thing is None:
            return ""
        return f"{'in the opposite order, ' if self.order(thing) else ''}half a turn at a time"

    def order(self, thing: Fastener) -> str | None:
        """Return the order in which a group is tightened: `crosswise`, `after the head bolts`."""
        own, after = self._own_order(thing), self._after(thing)
        return f"{own}, {after}" if own and after and after not in own else own or after

    def _after(self, thing: Fastener) -> str | None:
        """Return after what a group is tightened: `after the head bolts`."""
        before = self.things.get(thing.tightened_after.name) if thing.tightened_after else None
        return f"after the {named(before)}" if before else None

    def _own_order(self, thing: Fastener) -> str | None:
        if thing.rule is not None:
            return ORDERS[thing.rule]
        if thing.sequence and thing.places is not None and thing.count <= MOST_DRAWN:
            # The drawing gives each place its turn as its number: others beside it would mislead.
            return "in the order of the drawing"
        return thing.order or (f"in the order {', '.join(map(str, thing.sequence))}" if thing.sequence else None)

    def how_tight(self, thing: Fastener) -> Phrase:
        """Return how a fastener is tightened, for a table: torque or stages, and the order."""
        torque, order = self.torque(thing), self.order(thing)
        if thing.stages:
            body = self.stages(thing)
        elif torque:
            body = phrase(Piece(torque, Role.TORQUE), self.times_round(thing))
        elif thing.past_hand_tight and not thing.by_hand:
            body = phrase(Piece(self.turned(thing.past_hand_tight), Role.TORQUE), " past hand-tight")
        else:
            further = f", then {self.turned(thing.past_hand_tight)} further" if thing.past_hand_tight else ""
            return phrase(f"by hand: {thing.by_hand}{further}" if thing.by_hand else thing.no_torque or "–")
        return phrase(body, f", {order}" if order else None)

    def joint(self, thing: Fastener, held: Sequence[str], base: str | None) -> str:
        """Return what a fastener holds together: `pump cover to pump`, `in pump`; of a nut or a cap, `on pump`."""
        names = joined(list(held))
        if names and base:
            return f"{names} to {base}"
        return names or (f"{seat(thing)} {base}" if base else "")


def threads(film: Film, pieces: int = 2) -> str:
    """Return the state of a thread: `threads clean and dry`, `with thread-locker on the threads`."""
    words, name = FILMS[film], "thread" if pieces == 1 else "threads"
    return f"{words} on the {name}" if words.startswith("with ") else f"{name} {words}"


def times(count: int) -> str:
    """Return how often: `once`, `twice`, `three times`."""
    return {1: "once", 2: "twice"}.get(count, f"{number(count)} times")


_PARTS_OF_A_TURN = {
    Decimal("0.25"): "a quarter of a turn",
    Decimal("0.5"): "half a turn",
    Decimal("0.75"): "three quarters of a turn",
}


def until(words: str) -> str:
    """Return how something is tightened without a torque, after the rest: ` until it stops`, `: a quarter turn`."""
    return f" {words}" if words.lower().startswith(("until ", "till ", "as far as ")) else f": {words}"
