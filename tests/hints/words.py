"""What a hint asks for: its words, read as edits, as an author would who does just what stands there.

    add 'tighten: cover-screws' after 'install: cover-screws' in line 12
    add 'loosen: lock-nut' before it, and 'tighten: lock-nut' after it
    move 'reverse: make-safe' in line 20 after 'install: belt-guard' in line 24
    move it before 'remove: hose' in line 4; delete it
    write '18 mm'; did you mean 'guard-bolts'?
    add 'new: true'
    add 'hose' to 'begins-with' and to 'ends-with'

"It" is the step that the finding points at. Of several things to do, the first is done.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from putback.model.verbs import VERBS

_PAIR = r"'([a-z-]+): ([^']+)'"
_STEP = re.compile(_PAIR)
_NAMED = re.compile(rf"(?:{_PAIR}|the [a-z-]+)(?: in line (\d+)(?: of ([\w./-]+))?)?")
_PLACE = re.compile(r",? (before|behind|after) ")
_IT = re.compile(r"(?:it|this)\b")
_OPEN = re.compile("…|: (?:why|how|by what)\\b|\\b[A-Z]{3,}[}`]| of [A-Z]{3,}")
"""A value that only the author knows."""
_OR = re.compile(r"; |, or (?=[a-z'])")


class Place(NamedTuple):
    """Where a step is, or goes."""

    behind: bool = True
    """Behind what it is named by, or before it."""
    step: tuple[str, str] | None = None
    """The step that it is named by, verb and value; None for the step of the finding, or of a line."""
    line: int | None = None
    """The line of that step."""
    file: str | None = None
    """The file of that step, when it is not that of the finding: the end of its name."""


class Insert(NamedTuple):
    """One step more."""

    verb: str
    """Its verb."""
    value: str
    """What stands behind the verb."""
    place: Place
    """Where it goes."""
    keys: tuple[tuple[str, str], ...] = ()
    """Its other keys."""
    otherwise: bool = False
    """Whether it has a way out."""


class Move(NamedTuple):
    """A step goes elsewhere."""

    place: Place
    """Where it goes."""
    step: Place | None = None
    """The step; None for that of the finding."""


class Delete(NamedTuple):
    """What the finding points at goes: a step, a key, a name in a list."""


class Write(NamedTuple):
    """What the finding points at is written otherwise."""

    text: str
    """What stands there then; with a verb in front, it is another step."""
    without: str | None = None
    """A key that goes."""


class Fact(NamedTuple):
    """A fact of a thing of the machine is another one."""

    thing: str
    """The thing."""
    key: str
    """Which fact."""
    value: str
    """What it is."""


class WayOut(NamedTuple):
    """The step of the finding gets an `otherwise`, with a `stop`."""


class Add(NamedTuple):
    """A key more, of the step or the thing of the finding."""

    key: str
    """The key."""
    value: str
    """Its value."""


class Enlist(NamedTuple):
    """A name more in a list at the top of the file of the finding."""

    name: str
    """The name."""
    key: str
    """The key of the list, which may be a new one."""


Edit = Insert | Enlist | Move | Delete | Write | Add | Fact | WayOut


def edits_of(hint: str) -> tuple[Edit, ...] | None:
    """Return what a hint asks for first; None when it is advice in words, that only the author can follow."""
    if meant := re.match(r"did you mean '(.+?)'\?", hint):
        return (Write(meant[1]),)
    first = _OR.split(hint)[0]
    if hint.startswith("if ") or _OPEN.search(first):
        return None
    if re.match(r"delete it\b", first):
        return (Delete(),)
    if first.startswith("move "):
        return _moved(first)
    if found := re.fullmatch(rf"write {_PAIR} for '([^']+)' in machine.yaml", first):
        return (Fact(found[3], found[1], found[2]),)
    if found := re.fullmatch(r"write '([^']+)', without '([^']+)'", first):
        return (Write(found[1], found[2]),)
    if found := re.fullmatch(r"write '([^']+)'(?:, (?:and (add .*)|.*))?", first):
        return (Write(found[1]), *((_added(found[2]) or ()) if found[2] else ()))
    if re.match(r"add a 'stop' after it", first):
        return (Insert("stop", "Ask who can help.", Place()),)
    if re.match(r"add an 'otherwise' with what to do then", first):
        return (WayOut(),)
    return _added(first) if re.match(r"(?:add|put) '", first) else None


def _moved(words: str) -> tuple[Edit, ...] | None:
    at, step = len("move "), None
    if it := _IT.match(words, at):
        at = it.end()
    elif found := _NAMED.match(words, at):
        at, step = found.end(), _place_of(found, behind=True)
    place = _place(words, at)
    return (Move(place[0], step),) if place else None


def _added(words: str) -> tuple[Edit, ...] | None:
    if found := re.fullmatch(r"add '([\w-]+)' to '([\w-]+)'(?: and to '([\w-]+)')?", words):
        return tuple(Enlist(found[1], key) for key in (found[2], found[3]) if key)
    edits: list[Edit] = []
    waiting: list[Insert] = []
    at = words.index("'")
    while step := _STEP.match(words, at):
        at = step.end()
        if _is_key(step[1], step[2]):
            edits.append(Add(step[1], step[2]))
        else:
            keys, otherwise, at = _with(words, at)
            while another := re.compile(rf",? or {_PAIR}").match(words, at):
                at = another.end()
            waiting.append(Insert(step[1], step[2], Place(), keys, otherwise))
            if place := _place(words, at):
                edits += [one._replace(place=place[0]) for one in waiting]
                waiting, at = [], place[1]
        following = re.compile(r",? and (?=')|, (?=')").match(words, at)
        if not following:
            break
        at = following.end()
    return tuple(edits) if edits and not waiting else None


def _is_key(key: str, value: str) -> bool:
    return key not in VERBS or (key == "turn" and value in ("clockwise", "anticlockwise"))


def _with(words: str, at: int) -> tuple[tuple[tuple[str, str], ...], bool, int]:
    """Return the keys of a step, and whether it has an `otherwise`."""
    keys: list[tuple[str, str]] = []
    begun = re.compile(r" with (?=')").match(words, at)
    while begun and (pair := _STEP.match(words, begun.end())) and _is_key(pair[1], pair[2]):
        keys.append((pair[1], pair[2]))
        at = pair.end()
        begun = re.compile(r" and (?=')").match(words, at)
    found = re.compile(r" (?:and|with) an 'otherwise'").match(words, at)
    return tuple(keys), found is not None, found.end() if found else at


def _place(words: str, at: int) -> tuple[Place, int] | None:
    found = _PLACE.match(words, at)
    if found is None:
        return None
    behind = found[1] != "before"
    if it := _IT.match(words, found.end()):
        return Place(behind), it.end()
    named = _NAMED.match(words, found.end())
    return (_place_of(named, behind=behind), named.end()) if named and (named[1] or named[3]) else None


def _place_of(found: re.Match[str], *, behind: bool) -> Place:
    return Place(
        behind, (found[1], found[2].strip("[]")) if found[1] else None, int(found[3]) if found[3] else None, found[4]
    )
