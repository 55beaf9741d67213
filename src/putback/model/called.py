"""How the things of a machine are called in a sentence, alone and in numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.said import source_of
from putback.model.screwed import ScrewedPart
from putback.source.grammar import listed, number, plural


def noun(thing: AnyThing) -> str:
    """Return the word for the kind of thing: part, fastener, line, fluid, control or setting."""
    return "part" if isinstance(thing, Part) else type(thing).__name__.lower()


def named(thing: AnyThing, count: int | None = None) -> str:
    """Return a thing's name, in the plural when there are several: `impeller`, `cover screws`."""
    several = pieces_of(thing) if count is None or is_uncounted(thing) else count
    return thing.name if several == 1 else (thing.plural or plural(thing.name))


def named_by_author(thing: AnyThing) -> str:
    """Return a thing's name as its author wrote it, for whoever looks for it in words of the author."""
    name = source_of(thing.name)
    return name if pieces_of(thing) == 1 else source_of(thing.plural) if thing.plural else plural(name)


def counted(thing: AnyThing, count: int | None = None) -> str:
    """Return a thing with its count: `six cover screws`; a single thing goes without one: `impeller`."""
    if is_uncounted(thing):
        return named(thing)
    several = pieces_of(thing) if count is None else count
    return thing.name if several == 1 and _single(thing) else f"{number(several)} {named(thing, several)}"


UNCOUNTED = 0
"""The number of pieces of what nobody has counted: it is spoken of in the plural."""


def pieces_of(thing: AnyThing | None) -> int:
    """Return how many pieces a thing has; `UNCOUNTED` when nobody knows."""
    return (UNCOUNTED if thing.uncounted else thing.count) if isinstance(thing, Fastener) else 1


def is_uncounted(thing: AnyThing | None) -> bool:
    """Tell whether nobody knows how many pieces there are."""
    return isinstance(thing, Fastener) and thing.uncounted


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
    several = pieces_of(thing) if count is None or is_uncounted(thing) else count
    return singular if several == 1 else plural_form


def kinds_of(thing: AnyThing) -> tuple[str, ...]:
    """Return what a thing may stand for: its noun; a part that is screwed on is a fastener as well."""
    return ("part", "fastener") if isinstance(thing, ScrewedPart) else (noun(thing),)


def has_own_places(thing: AnyThing | None) -> bool:
    """Tell whether each of several alike pieces goes back where it came from."""
    return isinstance(thing, Part | Fastener) and thing.own_places


def is_one_of_a_kind(thing: AnyThing | None) -> bool:
    """Tell whether a machine has one piece of a thing: nobody can mix it up, but turn it round."""
    return thing is not None and thing.each is None and pieces_of(thing) == 1


def goes_to_its_place(thing: AnyThing) -> bool:
    """Tell whether it is of account how a thing sat: it is marked before it comes off."""
    return has_own_places(thing) or (isinstance(thing, Part | Line) and thing.adjustable)


def goes_in(thing: AnyThing) -> bool:
    """Tell whether a thing is said to be in or out, as a bolt is, and not on or off."""
    return isinstance(thing, Fastener) and not isinstance(thing, Part)


def title_of(thing: AnyThing) -> str:
    """Return a thing's name as a row or heading: `Cover screws`."""
    name = named(thing)
    return name[:1].upper() + name[1:]


def speaks_of(words: str, thing: AnyThing, things: Mapping[str, AnyThing]) -> bool:
    """Tell whether a name, or words in the place of one, mean a thing; the `cylinder head` is not the `cylinder`."""
    if words == thing.key:
        return True
    name, left = source_of(thing.name).lower(), source_of(words).lower()
    if name not in left or words in things:
        return False
    for longer in sorted((source_of(each.name).lower() for each in things.values()), key=len, reverse=True):
        if name in longer and name != longer:
            left = left.replace(longer, "")
    return name in left


def with_at(positions: Sequence[str]) -> str:
    """Return what a hint adds for pieces with names: ` with 'at: left'`, ` with 'at: [left, right]'`."""
    many = ", ".join(positions)
    return f" with 'at: {many if len(positions) < 2 else f'[{many}]'}'" if positions else ""


def position_word(control: Control, *, away: bool) -> str:
    """Return the normal position of a control; with `away`, the other one, or that it is not the normal one."""
    others = [position.name for position in control.positions if position.name != control.normal.name]
    return control.normal.name if not away else others[0] if len(others) == 1 else f"not {control.normal.name}"


def standing_word(thing: AnyThing | None, *, away: bool) -> str:
    """Return how a thing, or a piece of equipment (None), is on a whole machine, or when it is away from that."""
    if thing is None:
        return "in place" if away else "away"
    if isinstance(thing, Control):
        return position_word(thing, away=away)
    if isinstance(thing, Fluid):
        return "drained" if away else "full"
    if isinstance(thing, Line):
        return "disconnected" if away else "connected"
    if isinstance(thing, Fastener | Part):
        return ("out" if away else "in") if goes_in(thing) else ("off" if away else "in place")
    return "disturbed" if away else "as it was"
