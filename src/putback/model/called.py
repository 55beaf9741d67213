"""How the things of a machine are called in a sentence, alone and in numbers."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.machine import AnyThing, Fastener, Part
from putback.model.screwed import ScrewedPart
from putback.source.grammar import listed, number, plural


def noun(thing: AnyThing) -> str:
    """Return the word for the kind of thing: part, fastener, line, fluid, control or setting."""
    return "part" if isinstance(thing, Part) else type(thing).__name__.lower()


def named(thing: AnyThing, count: int | None = None) -> str:
    """Return a thing's name, in the plural when there are several: `impeller`, `cover screws`."""
    several = (thing.count if isinstance(thing, Fastener) else 1) if count is None else count
    return thing.name if several == 1 else (thing.plural or plural(thing.name))


def counted(thing: AnyThing, count: int | None = None) -> str:
    """Return a thing with its count: `six cover screws`; a single thing goes without one: `impeller`."""
    several = (thing.count if isinstance(thing, Fastener) else 1) if count is None else count
    return thing.name if several == 1 and _single(thing) else f"{number(several)} {named(thing, several)}"


def _single(thing: AnyThing) -> bool:
    return not isinstance(thing, Fastener) or thing.count == 1


def placed(thing: AnyThing, state: tuple[str, ...], *, as_: str) -> str:
    """Return where the named pieces are that are `tight`, `loose` or `out`: ` at front left and aft right`.

    Nothing when the pieces have no names, or when all of them are so.
    """
    if not isinstance(thing, Fastener) or not state or all(place == as_ for place in state):
        return ""
    found = [name.replace("-", " ") for name, place in zip(thing.positions, state, strict=False) if place == as_]
    return f" at {listed(found)}" if found else ""


def verb_s(thing: AnyThing | None, singular: str, plural_form: str, count: int | None = None) -> str:
    """Return the form of a verb that agrees with a thing: `comes`/`come`."""
    several = (thing.count if isinstance(thing, Fastener) else 1) if count is None else count
    return singular if several == 1 else plural_form


def kinds_of(thing: AnyThing) -> tuple[str, ...]:
    """Return what a thing may stand for: its noun; a part that is screwed on is a fastener as well."""
    return ("part", "fastener") if isinstance(thing, ScrewedPart) else (noun(thing),)


def goes_in(thing: AnyThing) -> bool:
    """Tell whether a thing is said to be in or out, as a bolt is, and not on or off."""
    return isinstance(thing, Fastener) and not isinstance(thing, Part)


def title_of(thing: AnyThing) -> str:
    """Return a thing's name as a row or heading: `Cover screws`."""
    name = named(thing)
    return name[:1].upper() + name[1:]


def with_at(positions: Sequence[str]) -> str:
    """Return what a hint adds for pieces with names: ` with 'at: left'`, ` with 'at: [left, right]'`."""
    many = ", ".join(positions)
    return f" with 'at: {many if len(positions) < 2 else f'[{many}]'}'" if positions else ""
