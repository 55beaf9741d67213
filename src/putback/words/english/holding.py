"""What is held while something else is turned, in English: a bolt while its nut is, an adjuster at its lock nut."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from putback.model.called import named
from putback.model.machine import AnyThing, Fastener
from putback.model.terms import Ref
from putback.model.turned import held_at, holding_tool, turning_tool
from putback.model.verb import Action
from putback.model.verbs.pieces import Loosen, Remove, Replace, Tighten
from putback.source.grammar import unbroken
from putback.words.english.things import Things, spaced
from putback.words.pieces import Phrase, Piece, Role, phrase


class Holding(Things):
    """What is said of the other hand."""

    def holding(self, action: Action, tools: Sequence[Ref], gone: Collection[str] = ()) -> Phrase:
        """` Hold the cover bolts with the 13 mm spanner, and turn the cover nuts with the 13 mm socket.`

        What is `gone` is not held.
        """
        result: Phrase = ()
        if not isinstance(action, Remove | Replace | Loosen | Tighten):
            return result
        for thing, held in held_at(action.things, self.things, comes_out=isinstance(action, Remove | Replace)):
            if held.key in gone:
                continue
            pieces = action.count or len(action.at) or thing.count
            tool, other = holding_tool(held, thing, self.library, tools), turning_tool(thing, self.library)
            drive = f" ({self.driven(held)})" if isinstance(held, Fastener) and held.drive else ""
            means = f" with the {unbroken(tool.name)}" if tool else drive
            if thing.counterhold is not None and thing.counterhold.name == held.key and other is not None:
                end = f", and turn the {named(thing, pieces)} with the {unbroken(other.name)}."
            else:
                end = " as you do so."
            result = phrase(*result, " Hold the ", *self._pieces(action, held, pieces), means, end)
        return result

    def _pieces(self, action: Remove | Replace | Loosen | Tighten, held: AnyThing, pieces: int) -> Phrase:
        """Return what is held, with its place where the pieces have names: `rocker adjuster at inlet`."""
        name = Piece(named(held, pieces) if isinstance(held, Fastener) else held.name, Role.THING, held.key)
        places = [ref.name for ref in action.at]
        known = isinstance(held, Fastener) and bool(places) and all(place in held.positions for place in places)
        return (name, Piece(f" at {self.names([spaced(place) for place in places])}")) if known else (name,)
