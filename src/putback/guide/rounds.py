"""Jobs and blocks with what is done for each place written out, and blocks with the things that they take."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from putback.guide.spread import MARK, Spot, Spread
from putback.model.job import Block, Repeat, Step
from putback.model.setting import Disturber
from putback.model.terms import Ref, both
from putback.model.verbs.blocks import Do, Each, Reverse
from putback.model.verbs.pieces import OfPieces

MOST_WRITTEN = 12_000
"""Steps of a job or block as it is written out, with those of the blocks that it does: with more it is not walked."""

DEEPEST = 3
"""How deep `each` steps may lie in each other, through blocks as well, before a block is done for all places."""


class _Around(NamedTuple):
    """Where a step is done: at which places, and what the names of its block stand for."""

    spot: Spot
    """The place of each kind of places that is settled."""
    rounds: tuple[Repeat, ...]
    """The same, as steps carry it along."""
    given: Mapping[str, str]
    """What the names stand for that its block takes."""


NOWHERE = _Around({}, (), {})
"""Of a job or block by itself."""


class Rounds:
    """Writes out what is done for each place."""

    def __init__(self, known: Spread, blocks: Mapping[str, Block]) -> None:
        """Take the machine as it is written out, and all blocks."""
        self.known = known
        self.written = blocks
        self.blocks: dict[str, Block] = {}
        """All blocks, and one more for each way in which one is done."""
        self.ways: dict[tuple[object, ...], str] = {}
        self.left = 0
        self.too_long: set[str] = set()
        """The files of jobs and blocks that are not written out to their end."""
        for key, block in blocks.items():
            self.blocks[key] = self.whole(block)

    def whole(self, sequence: Any) -> Any:
        """Return a job or block written out, as it is done by itself."""
        self.left, ways = MOST_WRITTEN, set(self.ways)
        written = self.sequence(sequence, NOWHERE)
        if self.left < 0:
            self.too_long.add(sequence.path)
            self.ways = {key: way for key, way in self.ways.items() if key in ways}
        return written

    def sequence(self, sequence: Any, around: _Around) -> Any:
        """Return a job or block written out."""
        sections = tuple(
            replace(section, steps=tuple(self.steps(section.steps, around))) for section in sequence.sections
        )
        changes: dict[str, Any] = {"sections": sections, "ends_with": self.refs(sequence.ends_with, around)}
        if isinstance(sequence, Block):
            changes["begins_with"] = self.refs(sequence.begins_with, around)
        return replace(sequence, **changes)

    def steps(self, steps: tuple[Step, ...], around: _Around) -> Iterator[Step]:
        """Yield steps as they are done, one place after the other."""
        for step in steps:
            self.left -= 1
            if self.left < 0:
                return
            if isinstance(step.action, Each):
                yield from self.each(step, around)
            elif isinstance(step.action, Do | Reverse):
                yield self.doing(step, around)
            else:
                yield from self.placed(step, around)

    def each(self, step: Step, around: _Around) -> Iterator[Step]:
        """Yield what is done for each place."""
        name_of = step.name
        for ref in step.things:
            places = self.known.machine.places.get(ref.name)
            for name in places.names if places else ():
                spot = {**around.spot, ref.name: name}
                here = around._replace(spot=spot, rounds=(*around.rounds, Repeat(step.key, ref.name, name, step)))
                for inner in self.steps(step.steps, here):
                    changes: dict[str, Any] = {"when": both(step.when, inner.when)} if step.when else {}
                    if name_of and not inner.name:
                        changes["name"] = name_of  # who goes back to it goes to the first step of the first place
                    name_of = None
                    yield replace(inner, **changes) if changes else inner

    def doing(self, step: Step, around: _Around) -> Step:
        """Return a step that does a block, with what the block takes, at these places."""
        action = step.action
        given = {name.name: around.given.get(ref.name, ref.name) for name, ref in action.with_}  # type: ignore[attr-defined]
        refs = tuple(
            Ref(self.way(ref.name, around._replace(given=given)), ref.span) if around.rounds or given else ref
            for ref in step.things
            if not self.wants(ref.name, given)
        )
        return replace(step, action=action._replace(things=refs), rounds=around.rounds)  # type: ignore[attr-defined]

    def wants(self, name: str, given: Mapping[str, str]) -> bool:
        """Tell whether a block takes what nobody gives it: that is told, and then nothing is done."""
        block = self.written.get(name)
        return block is not None and any(taken.name not in given for taken, _ in block.takes)

    def way(self, name: str, around: _Around) -> str:
        """Return the name of a block as it is done here."""
        block = self.written.get(name)
        if block is None:
            return name
        key = (name, tuple((each.each, each.place) for each in around.rounds), tuple(sorted(around.given.items())))
        if key not in self.ways:
            if len(around.rounds) > DEEPEST:
                return name
            self.ways[key] = way = f"{name}{MARK}{len(self.blocks)}"
            self.blocks[way] = block
            self.blocks[way] = replace(self.sequence(block, around), key=way)
        return self.ways[key]

    def placed(self, step: Step, around: _Around) -> Iterator[Step]:
        """Yield a step with the single things that it is for; one for each place, where it names an end of a line."""
        at: tuple[Ref, ...] | Ref | None = step.at or getattr(step.action, "at", None)
        if isinstance(at, Ref):
            lines = [ref for ref in step.things if self.known.ones.get(ref.name)]
            places = self.places_of(lines[0].name) if lines else ()
            kind = self.kind_of(lines[0].name) if lines else None
            if kind and at.name in places:
                here = {**around.spot, kind: at.name}
                yield self.bound(step, around._replace(spot=here), at=None)
                return
            if kind and kind not in around.spot:
                for place in places:
                    turn = Repeat(step.key, kind, place, None)
                    here = {**around.spot, kind: place}
                    yield self.bound(step, around._replace(spot=here, rounds=(*around.rounds, turn)), at=at)
                return
        yield self.bound(step, around, at=at)

    def bound(self, step: Step, around: _Around, at: tuple[Ref, ...] | Ref | None) -> Step:
        """Return a step with single things in it, and all that hangs on its answer."""
        action: Any = step.action
        changes: dict[str, Any] = {}
        some = at if isinstance(at, tuple) and not isinstance(at, Ref) else ()  # of a run it is words
        for field in action._fields:
            value = getattr(action, field)
            if field == "at" or not value:
                continue
            if isinstance(value, Ref):
                changes[field] = next(iter(self.refs((value,), around)), value)
            elif isinstance(value, tuple) and all(isinstance(item, Ref) for item in value):
                changes[field] = self.refs(value, around, some)
            elif isinstance(value, tuple) and all(isinstance(item, Disturber) for item in value):
                changes[field] = tuple(self.holes(value, around))
        if some and isinstance(action, OfPieces):
            rest = tuple(ref for ref in some if not any(ref.name in self.places_of(one.name) for one in step.things))
            changes["at"] = rest
            if not step.counted:
                changes["count"] = len(rest) or None
        elif "at" in action._fields:
            changes["at"] = next(iter(self.refs((at,), around)), at) if isinstance(at, Ref) else at
        outcomes = tuple(replace(outcome, steps=tuple(self.steps(outcome.steps, around))) for outcome in step.outcomes)
        return replace(
            step,
            action=action._replace(**changes),
            otherwise=tuple(self.steps(step.otherwise, around)),
            outcomes=outcomes,
            rounds=around.rounds,
            at=(),
            figure=step.figure and step.figure.of_things(around.given),
        )

    def holes(self, holes: tuple[Disturber, ...], around: _Around) -> Iterator[Disturber]:
        """Yield the holes of single things that some names stand for here."""
        for ref, at in holes:
            places = tuple(place for place in at if place.name in self.places_of(ref.name))
            rest = tuple(place for place in at if place not in places)
            yield from (Disturber(one, rest) for one in self.refs((ref,), around, places))

    def refs(self, refs: tuple[Ref, ...], around: _Around, at: tuple[Ref, ...] = ()) -> tuple[Ref, ...]:
        """Return the single things that some names stand for here, of those at some places."""
        found: list[Ref] = []
        for written in refs:
            ref = Ref(around.given.get(written.name, written.name), written.span)
            kind = self.kind_of(ref.name) if at else None
            chosen = [place.name for place in at if kind and place.name in self.places_of(ref.name)]
            thing = self.known.printed.get(ref.name)
            if kind and not chosen and not getattr(thing, "positions", ()):
                found.append(Ref(f"{MARK}?", ref.span))  # at no place that there is: that is told
                continue
            spots: list[Spot] = [{**around.spot, kind: place} for place in chosen if kind]
            for spot in spots or [around.spot]:
                found += self.known.of(ref, spot)
        return tuple(found)

    def kind_of(self, name: str) -> str | None:
        """Return for which places a thing is there."""
        thing = self.known.printed.get(name)
        return thing.each.name if thing and thing.each and thing.each.name in self.known.machine.places else None

    def places_of(self, name: str) -> tuple[str, ...]:
        """Return the names of the places for which a thing is there."""
        kind = self.kind_of(name)
        return self.known.machine.places[kind].names if kind else ()
