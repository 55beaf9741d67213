"""What is measured, from the words of an author: `clearance of the exhaust valve` is a clearance, and that is a length.

English puts first what is measured, then of what: the last known term before the first preposition is taken, and
nothing when the words before it end in one that is not known (a `pressure switch` is no pressure).
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import NamedTuple

from putback.model.measurands import CARRIED, EITHER, PRESSES, SIDES, SPRINGS_BACK, TERMS, TURNS
from putback.model.said import source_of
from putback.source.late import Late
from putback.units import Kind

_WORDS = Late(r"[^\W_]+(?:['’][^\W_]+)?|[,;:.(]")
_PARTS = frozenset(
    """of at in on between under over with when after before while from to for by without against across along through
    during within around above below until till per as that which where than if is are has have must stays stands
    needed drawn past measured taken pulled pushed pressed turned""".split()  # noqa: SIM905
)
"""Words that end the name of what is measured."""
_BESIDE = frozenset(
    """a an the its their each every both all this that these those again now once here there only cold hot warm left
    right front rear upper lower inner outer minimum maximum min max total first second third last new old used actual
    same largest smallest greatest least most deepest worst""".split()  # noqa: SIM905
)
_LONGEST = 3
"""Words of the longest term, and one more."""


class Measured(NamedTuple):
    """What is measured."""

    term: str
    """Its name in the trade: `clearance`."""
    kinds: tuple[Kind, ...]
    """The kinds of quantity that it can have, the most usual first."""
    side: str | None = None
    """How its limit reads when it is worn, `at most` or `at least`; None when it can be either."""


@lru_cache(maxsize=2048)
def measured(words: str, of: str = "") -> Measured | None:
    """Return what some words say is measured, `of` a thing where they do not say it; None when nobody can tell."""
    phrases = _phrases(words)
    found = _head(phrases)
    if found is None and len(phrases) > 1 and phrases[1][0] == "to":  # valve stem to guide clearance
        phrases = [("", phrases[0][1] + phrases[1][1]), *phrases[2:]]
        found = _head(phrases)
    if found is None:
        return None
    term, before, carried = found
    thing = [_single(word) for word in source_of(of).lower().split()]
    every = {word for _, phrase in phrases for word in map(_single, phrase)} | set(thing)
    side = None if carried else _side(term, [*map(_single, reversed(before)), *_hosts(phrases), *thing[-1:]], every)
    return Measured(term, _kinds_of(term, every), side)


def _kinds_of(term: str, every: set[str]) -> tuple[Kind, ...]:
    kinds = _kinds()[term]
    if "resistance" in term and every & TURNS:
        return Kind.TORQUE, Kind.FORCE
    if term == "compression" and every & SPRINGS_BACK:
        return *kinds, Kind.LENGTH, Kind.FORCE
    if "pressure" in term and every & PRESSES:
        return Kind.FORCE, *kinds
    return kinds


def _phrases(words: str) -> list[tuple[str, list[str]]]:
    """Return the words between prepositions, of the first clause, each with the preposition before it."""
    phrases: list[tuple[str, list[str]]] = [("", [])]
    for match in _WORDS.finditer(source_of(words).lower().replace("-", " ").replace("out of round", "ovality")):
        word = match[0]
        if len(word) == 1 and not word.isalnum():
            break
        if word in _PARTS:
            phrases.append((word, []))
        elif word not in _BESIDE:
            phrases[-1][1].append(word)
    return phrases


def _hosts(phrases: list[tuple[str, list[str]]]) -> list[str]:
    """Return what it is measured of, the nearest first: `of 20 links of the chain`, `between piston and cylinder`."""
    found: list[str] = []
    for how, phrase in phrases[1:]:
        if how not in ("of", "between"):
            break
        found += map(_single, phrase[-1:] if how == "of" else phrase)
    return found


def _head(phrases: list[tuple[str, list[str]]]) -> tuple[str, list[str], bool] | None:
    """Return the term at the end of the first phrase, the words before it, and whether another word carried it."""
    kinds, carried = _kinds(), False
    for number, (_, phrase) in enumerate(phrases):
        words = list(phrase)
        while words:
            for length in range(min(_LONGEST, len(words)), 0, -1):
                term = " ".join([*words[-length:-1], _single(words[-1])])
                if term in kinds:
                    return term, words[:-length], carried
            if _single(words[-1]) not in CARRIED:
                return None
            words.pop()
            carried = True
        if number and not carried:
            return None
    return None


def _single(word: str) -> str:
    if word.endswith(("shes", "ches", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us")) and word != "revs" else word


@cache
def _kinds() -> dict[str, tuple[Kind, ...]]:
    return {" ".join(term.split()): kinds for kinds, terms in TERMS for term in terms.split(",")}


@cache
def _sides() -> dict[str, list[tuple[frozenset[str], str]]]:
    found: dict[str, list[tuple[frozenset[str], str]]] = {}
    for terms, hosts, side in SIDES:
        for term in terms.split(","):
            found.setdefault(" ".join(term.split()), []).append((frozenset(hosts.split()), side))
    return found


@cache
def _either() -> dict[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for terms, words in EITHER:
        for term in terms.split(","):
            name = " ".join(term.split())
            found[name] = found.get(name, frozenset()) | frozenset(words.split())
    return found


def _side(term: str, hosts: list[str], every: set[str]) -> str | None:
    if every & _either().get(term, frozenset()):
        return None
    sides = _sides().get(term, ())
    for host in [*hosts, ""]:
        for wanted, side in sides:
            if host in wanted or not wanted:
                return side
    return None
