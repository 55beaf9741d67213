"""What a step's hazards ask for: protective equipment at its safety messages, and what to do with what comes out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from putback.model.job import Step
from putback.model.library import Hazard, Library, SafetyMessage
from putback.model.machine import AnyThing, Fastener, Fluid, Part
from putback.model.terms import Ref
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.fluids import Drain
from putback.model.verbs.pieces import Loosen, Remove, Replace


def wear_of(message: SafetyMessage, library: Library) -> list[str]:
    """Return the protective equipment of a safety message and of the hazards that it covers, each once."""
    covered = [library.hazards[ref.name].wear for ref in message.covers if ref.name in library.hazards]
    return list(dict.fromkeys([*message.wear, *(item for items in covered for item in items)]))


def hazards_of(step: Step, things: Mapping[str, AnyThing], library: Library) -> Iterator[Hazard]:
    """Yield the hazards that a step can have at all, whatever its controls keep away: by its verb, or by a tag.

    A tag warns of what gets out: it counts with the hazard's own verbs, or else with those that open, move or wet.
    """
    tags = {*_tags(step, things, library), *_waste_tags(step, things, library)}
    for hazard in library.hazards.values():
        verb = step.verb.name in hazard.verbs if hazard.verbs or not hazard.tags else step.verb.releases
        if verb and (not hazard.tags or tags.intersection(hazard.tags)):
            yield hazard


def waste_of(step: Step, things: Mapping[str, AnyThing], library: Library) -> list[str]:
    """Return what to do with what a step lets out, takes off or wets with a consumable, each text once.

    A control that keeps a hazard away does not count: what stood in a bowl comes out with the tap closed as well. A
    fastener or a line does not count either, unless it is the drain of a fluid: the clamp of a battery is no waste.
    """
    tags = set(_waste_tags(step, things, library))
    found = (hazard.waste for hazard in library.hazards.values() if tags.intersection(hazard.tags))
    return list(dict.fromkeys(text for text in found if text))


def _tags(step: Step, things: Mapping[str, AnyThing], library: Library) -> Iterator[str]:
    refs = [*step.things, *(step.action.to if isinstance(step.action, Apply) else ())]
    refs += [step.action.with_] if isinstance(step.action, Clean) and step.action.with_ else []
    for ref in refs:
        entry = things.get(ref.name) or library.consumables.get(ref.name)
        yield from _names(entry.tags if entry else ())


def _waste_tags(step: Step, things: Mapping[str, AnyThing], library: Library) -> Iterator[str]:
    match step.action:
        case Drain(things=refs):
            yield from _carried(refs, things)
        case Remove(things=refs) | Replace(things=refs) | Loosen(things=refs):
            drains = {ref.name for ref in refs}
            for fluid in things.values():
                if isinstance(fluid, Fluid) and any(drain.name in drains for drain in fluid.drains):
                    yield from _names(fluid.tags)
            if not isinstance(step.action, Loosen):
                yield from _carried(refs, things)
        case Clean(with_=Ref(name=name)) if name in library.consumables:
            yield from _names(library.consumables[name].tags)
        case _:
            return


def _carried(refs: tuple[Ref, ...], things: Mapping[str, AnyThing]) -> Iterator[str]:
    for ref in refs:
        thing = things.get(ref.name)
        if isinstance(thing, Part | Fluid) or (isinstance(thing, Fastener) and thing.single_use):
            yield from _names(thing.tags)


def _names(tags: tuple[Ref, ...]) -> Iterator[str]:
    return (tag.name for tag in tags)
