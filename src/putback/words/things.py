"""Things, quantities and conditions in English: what sentences are made of."""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.ledger.opened import Opened
from putback.model.called import counted, named
from putback.model.job import Step
from putback.model.machine import Fastener, Fluid, Part
from putback.model.said import Limit
from putback.model.terms import Ref, When
from putback.model.verbs.asking import Inspect, Measure
from putback.model.verbs.pieces import Install
from putback.source.grammar import listed, number, unbroken
from putback.units import Quantity, System, both, show
from putback.words.pieces import Phrase, Piece, Role, phrase
from putback.words.rows import Rows
from putback.words.safety import Safety
from putback.words.tightening import Tightening

_AS_IT_IS = re.compile(
    r"(the|a|an|all|both|each|every|no|your|its|that|this|how|whether|where|what|which|if)\b", re.IGNORECASE
)
"""Words that begin a phrase which needs no article."""


class Things(Tightening, Safety, Rows):
    """Puts the things and facts of one guide into words."""

    def __init__(self, opened: Opened) -> None:
        guide = opened.guide
        self.things = guide.machine.things if guide.machine else {}
        self.library = guide.library
        self.graph = opened.graph
        systems = [System(unit) for unit in guide.cover.units] if guide.cover else [System.METRIC, System.US]
        self.first = systems[0]
        self.second = systems[1] if len(systems) > 1 else None

    # Quantities and conditions.

    def quantity(self, quantity: Quantity) -> str:
        """Return a quantity in the guide's units."""
        return both(quantity, self.first, self.second)

    def limit(self, limit: Limit) -> str:
        """Return a limit: in the guide's units when it is a quantity, otherwise as it is."""
        return self.quantity(limit.quantity) if limit.quantity else limit.text

    def only_when(self, when: When | None) -> str | None:
        """Return a condition as words: `Only with pump drive: belt`."""
        when = self.graph.needed(when) if self.graph else when
        if when is None:
            return None
        cases = [
            " and ".join(
                f"{spaced(clause.option.name)}: {listed([spaced(c.name) for c in clause.choices], 'or')}"
                for clause in case
            )
            for case in when.cases
        ]
        return f"Only with {listed(cases, 'or')}"

    def facts(self, thing: Fastener) -> str:
        """Return what tells a fastener from others, in brackets: ` (M6 x 1.0, 40 mm, hex 10 mm)`.

        Sizes stay as they are marked on the piece and on the tool: they are names, not measurements.
        """
        lengths = [f"{position.replace('-', ' ')} {show(length)}" for position, length in thing.lengths]
        facts = (thing.thread, show(thing.length) if thing.length else None, *lengths, thing.drive)
        inside = ", ".join(unbroken(fact) for fact in facts if fact)
        return f" ({inside})" if inside else ""

    # Things.

    def thing(self, ref: Ref, count: int | None = None, article: str = "the") -> Phrase:
        """Return a thing with its article: `the impeller`, `the six cover screws`, `two of the six cover screws`."""
        thing = self.things.get(ref.name)
        if thing is None:
            return phrase(self.other(ref.name))
        if isinstance(thing, Fastener) and count is not None and count < thing.count:
            words = (
                f"{number(count)} of the {counted(thing)}"
                if article == "the"
                else f"{number(count)} {article} {named(thing, count)}"
            )
            return (Piece(words, Role.THING, ref.name),)
        many = isinstance(thing, Fastener) and thing.count > 1
        if article == "a new" and many and isinstance(thing, Fastener):
            return (Piece(f"{number(thing.count)} new {named(thing)}", Role.THING, ref.name),)
        return (Piece(f"{article} {counted(thing)}", Role.THING, ref.name),)

    def other(self, words: str) -> str:
        """Return words that stand for no thing, with an article: `the tell-tale`."""
        for entries in (self.library.aids, self.library.consumables):
            if words in entries:
                return f"the {entries[words].name}"
        return words if _AS_IT_IS.match(words) else f"the {words}"

    def all_of(
        self,
        refs: Sequence[Ref],
        count: int | None = None,
        article: str = "the",
        facts: bool = False,
        at: Sequence[Ref] = (),
    ) -> Phrase:
        """Return things as a list: `the collar, the spacer and the flat washer`."""
        result: Phrase = ()
        for index, ref in enumerate(refs):
            between = "" if index == 0 else " and " if index == len(refs) - 1 else ", "
            thing = self.things.get(ref.name)
            detail = self.facts(thing) if facts and isinstance(thing, Fastener) else ""
            result = phrase(*result, between, self.thing(ref, count, article), detail)
        return phrase(*result, f" at {listed([spaced(place.name) for place in at])}" if at else "")

    # Sentences.

    def install(self, action: Install) -> Phrase:
        """`Install a new impeller (part number TD-3102).` · `Install the six cover screws hand-tight.`"""
        article = "a new" if action.new else "the"
        first = self.things.get(action.things[0].name) if action.things else None
        body = self.all_of(action.things, action.count, article, facts=True, at=action.at)
        if isinstance(first, Part) and first.number and len(action.things) == 1 and action.new:
            body = phrase(body, f" (part number {first.number})")
        end = "."
        if isinstance(first, Fastener):
            if first.turned:
                end = " hand-tight."
            elif first.by_hand:
                end = f" by hand: {first.by_hand}."
        if action.turn:
            other = "anticlockwise" if action.turn.name == "clockwise" else "clockwise"
            end = f" while you turn the shaft {action.turn.name}, never {other}."
        return phrase("Install ", body, end)

    def measure(self, action: Measure) -> Phrase:
        """`Measure the height at the peak of the cam: ≥ 6.4 mm (0.252 in).`"""
        first = self.things.get(action.things[0].name) if action.things else None
        limit = self.limit(action.limit) if action.limit else None
        what = self.all_of(action.things)
        if isinstance(first, Part) and first.wear:
            if first.wear.measure:
                what = phrase(f"{self.other(first.wear.measure)} of ", what)
            if limit is None and first.wear.limit:
                limit = self.limit(first.wear.limit)
        return phrase("Measure ", what, f": {limit}." if limit else ".")

    def go_back(self, number: str) -> Phrase:
        """Return how to go on from an earlier step."""
        return phrase(f"Go back to step {number} and go on from there.")

    def otherwise(self, step: Step) -> str:
        """Return what leads to the steps under `otherwise`."""
        match step.action:
            case Inspect():
                return "If there is any:" if step.action.for_ else "If it is not good:"
            case Measure():
                return "If it is outside:"
            case _:
                return "If not:"

    # Bits of sentences.

    def end(self, at: Ref | None) -> Phrase:
        """` at the pump`."""
        return phrase(" at ", self.thing(at)) if at else ()

    def amount(self, things: Sequence[Ref], volume: Quantity | None, about: str = "") -> str:
        """` (about 4.5 l (4.8 US qt))` from the step, or from the machine."""
        quantity = volume or next(
            (t.volume for ref in things if isinstance(t := self.things.get(ref.name), Fluid) and t.volume), None
        )
        return f", {about}{self.quantity(quantity)}" if quantity else ""

    def grade(self, things: Sequence[Ref], volume: Quantity | None) -> str:
        """`: ethylene glycol 50 %, 4.5 l`."""
        fluid = self.things.get(things[0].name) if things else None
        grade = fluid.grade if isinstance(fluid, Fluid) and fluid.grade else None
        amount = self.amount(things, volume).removeprefix(", ")
        facts = ", ".join(fact for fact in (grade, amount) if fact)
        return f": {facts}" if facts else ""

    def mass(self, things: Sequence[Ref]) -> str:
        """`: 11 kg (24 lb)`, when it is known."""
        part = self.things.get(things[0].name) if len(things) == 1 else None
        return f": {self.quantity(part.mass)}" if isinstance(part, Part) and part.mass else ""

    def consumable(self, name: str) -> str:
        """Return the name of a consumable."""
        entry = self.library.consumables.get(name)
        return entry.name if entry else name

    def block(self, name: str) -> str:
        """Return the title of a block."""
        entry = self.library.blocks.get(name)
        return entry.title if entry else name

    def caution(self, name: str) -> str:
        """Return the hazard of a safety message."""
        entry = self.library.cautions.get(name)
        return entry.hazard if entry else name


def one(things: Sequence[Ref]) -> bool:
    """Tell whether there is one thing."""
    return len(things) == 1


def them(english: Things, things: Sequence[Ref], count: int | None) -> str:
    """`it` or `them`, after things of which some pieces are meant."""
    thing = english.things.get(things[0].name) if len(things) == 1 else None
    return "it" if isinstance(thing, Fastener) and (count or thing.count) == 1 else "them"


def spaced(name: str) -> str:
    """Return a name as words."""
    return name.replace("-", " ")
