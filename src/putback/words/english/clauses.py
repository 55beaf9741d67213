"""What an author's words for a limit are, in English, and what they are said of.

A limit goes on from what is checked: "turns freely", "dry after 5 min", "between the marks". Or it is what must be
there: "no knock". Or it stands alone: "the light goes out". What cannot be told apart stands alone.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import Enum

from putback.words.english import verbs


class Following(Enum):
    """How a limit in words follows what is checked."""

    DOES = "does"
    """It begins with a verb: `turns freely`."""
    IS = "is"
    """It is a state: `dry after 5 min`."""
    THERE = "there"
    """It is what must be there, or must not: `no knock`."""
    ALONE = "alone"
    """It is a sentence, or nobody can tell."""


_WORD = re.compile(r"[^\s,;:.!?()“”\"]+")
_NO_PLURAL = ("ss", "us", "is", "gas", "lens")
"""Ends of words in the singular that look like a plural."""
_PLURALS = ("teeth", "feet", "people", "knives", "halves")
_COMPARED = re.compile(r"no (?:\w+er|more|less|fewer) .*\bthan\b", re.IGNORECASE)
_SOME = re.compile(r"an? (?:third|half|quarter|few|little|bit|lot|hand|hair|touch|couple|finger)\b", re.IGNORECASE)
_LIST_GOES_ON = re.compile(r"(?:the|its|their|both|your|an?) ", re.IGNORECASE)
_STOPS = re.compile(r"[.;:!?(]\s*\S")
_WITH = re.compile(r"\bwith(?:out)?\b")
_AND = re.compile(r" and ")
_ALONE = ("it", "they", "nothing", "nobody", "none", "neither", "both", "all")
"""Words that are spoken of without another one."""
_RELATIVE = frozenset(("that", "which", "who", "of", "for", "from", "with", "after", "before", "when", "while"))
"""Words after which the thing itself has been named."""
_CLAUSE = re.compile(r" (?:while|when|as soon as) ")
_IN_FRONT = ("with", "while", "when", "as", "after", "before", "during", "at", "from", "under", "in", "on")
_WHERE = verbs.PREPOSITIONS | {"before", "round", "next", "close", "with", "to", "from", "well"}
_SWITCHED_OFF = re.compile(
    r"(?:switch|turn)\b[^.,;:]*?\boff\b|(?:shut|stop|close) (?:the|it|its|all|both|your)\b", re.IGNORECASE
)
"""What is done at once where a job ends: `Switch the engine off, and do the job again.`"""
_PRONOUNS = frozenset(("it", "its", "them", "they", "their"))
_AND_ANOTHER = re.compile(r" and (?:the|its|their|both|your) ", re.IGNORECASE)


def following(limit: str, *, several: bool) -> Following:
    """Return how a limit follows what is checked; `several` tells whether that is spoken of in the plural."""
    first, *others = limit.split(", ")
    words = _words(first)
    if not words or limit[0].isupper() or _STOPS.search(limit):
        return Following.ALONE
    found = _as_verb_or_state(words, several=several) if _go_along(limit) else Following.ALONE
    if found is Following.ALONE and words[0] in ("no", "nothing", "neither", "a", "an") and not _SOME.match(limit):
        sentences = any(_is_sentence(_without_and(each)) for each in (first, *others))
        return Following.ALONE if sentences or words[:2] == ["no", "longer"] else Following.THERE
    return found


def _as_verb_or_state(words: list[str], *, several: bool) -> Following:
    """Return whether words begin with a verb or a state."""
    if _COMPARED.match(" ".join(words)):
        return Following.IS
    together = words[0] in ("both", "all")
    while len(words) > 1 and (words[0] in verbs.BETWEEN or (words[0].endswith("ly") and words[0] != "only")):
        words = words[1:]
    if words[0] == "neither" and words[1:] and words[1] in verbs.THIRD_PERSON:
        return Following.DOES
    word, after = words[0], words[1] if len(words) > 1 else None
    if several and together and word in verbs.AFTER_BOTH - verbs.STATES:
        return Following.DOES
    if word in verbs.AUXILIARIES | verbs.PAST or (word in verbs.THIRD_PERSON and after != "of"):
        return Following.DOES
    if word in verbs.PREPOSITIONS or _is_state(words) or (word == "not" and after not in {None, *verbs.DETERMINERS}):
        return Following.IS
    return Following.DOES if several and word in verbs.BASE and word not in verbs.STATES else Following.ALONE


def _is_state(words: list[str]) -> bool:
    """Tell whether words say how a thing is; `steady` does, and a `steady jet` is another thing."""
    if not words or words[0] not in verbs.STATES:
        return False
    if words[1:2] and words[1] in ("and", "or") and words[2:] and words[2] in verbs.STATES:
        return _is_state(words[2:])
    after = words[1] if len(words) > 1 else None
    return after is None or after in verbs.AFTER_A_STATE or after.endswith("ly") or after[0].isdigit()


def _words(text: str) -> list[str]:
    return [word.lower() for word in _WORD.findall(text)]


def _without_and(segment: str) -> list[str]:
    words = _words(segment)
    return words[1:] if words[:1] and words[0] in ("and", "but", "or", "nor") else words


def _go_along(limit: str) -> bool:
    """Tell whether all that follows a comma can follow a verb or a state."""
    before, *others = limit.split(", ")
    for segment in others:
        if not _goes_along(segment, after_with=_WITH.search(before) is not None):
            return False
        before += f", {segment}"
    return True


def _goes_along(segment: str, *, after_with: bool) -> bool:
    """Tell whether words are no thing of their own, unless it is one of those after `with`, and no sentence alone."""
    words = _without_and(segment)
    joined = len(words) < len(_words(segment))
    if not words or words[0] in ("it", "they", "there"):
        return False
    if words[0] in verbs.STATES:
        return _is_state(words)
    if words[0] not in verbs.DETERMINERS:
        return True
    if _is_sentence(words):
        return joined
    return after_with or words[0] in ("one", "both", "each", "all", "neither")


def _is_sentence(words: list[str]) -> bool:
    """Tell whether words that begin with a thing have a verb that is said of it."""
    if not words or words[0] not in verbs.DETERMINERS | {"more", "less", "at", "most", "half"}:
        return False
    for place, word in enumerate(words[1:], 1):
        if word in verbs.SUBORDINATE and not (word == "than" and words[0] in ("more", "less")):
            return False
        said = word in verbs.AUXILIARIES | verbs.PAST | verbs.THIRD_PERSON | verbs.BASE
        if said and (place > 1 or words[0] in _ALONE):
            return True
    return False


def is_several(words: str) -> bool:
    """Tell whether an author's words for what is checked are in the plural: `the belts`, `the hose and its clamps`."""
    first = words.lower().split()[:1]
    if not first or first[0] in verbs.SINGULAR:
        return False
    named, _ = apart(words)
    head = named.split(", ")[0]
    if ", " in named or first[0] in verbs.SEVERAL:
        return True
    listed = [match.start() for match in _AND.finditer(head)]
    before = next((m.start() for m in _WORD.finditer(head) if m[0].lower() in verbs.PREPOSITIONS | _RELATIVE), None)
    if any((before is None or at < before or _AND_ANOTHER.match(head, at)) for at in listed):
        return " between " not in head
    last = (head if before is None else head[:before]).split()[-1:] or [""]
    return last[0].lower() in _PLURALS or (last[0].lower().endswith("s") and not last[0].lower().endswith(_NO_PLURAL))


def apart(words: str) -> tuple[str, str]:
    """Return what is checked, and what an author adds after a comma: `the propeller` and `turned by hand`."""
    while_ = _CLAUSE.search(words)
    if while_ and ", " not in words[: while_.start()]:
        return words[: while_.start()].rstrip(","), words[while_.start() + 1 :]
    first, *others = words.split(", ")
    taken = 0
    while taken < len(others) and _LIST_GOES_ON.match(others[taken]):
        taken += 1
    if not any(" and " in each for each in (first, *others[:taken])):
        taken = 0
    return ", ".join([first, *others[:taken]]), ", ".join(others[taken:])


def is_whereabouts(words: str) -> bool:
    """Tell whether an author's words for a place say where it is: `under the gearcase`, `a hand's breadth below it`."""
    first, *others = _words(words) or [""]
    return first in _WHERE or (first in ("a", "an", "half") and not _WHERE.isdisjoint(others))


def comes_first(added: str) -> bool:
    """Tell whether what is added reads better in front: `with the seacock open`, but not `with the lid beside it`."""
    words = _words(added)
    return words[:1] != [] and words[0] in _IN_FRONT and not _PRONOUNS.intersection(words)


def done_first(added: str) -> tuple[str, str] | None:
    """Return what is done before it is judged, as an order, and the rest: `turn` and ` by hand`."""
    verb, _, rest = added.partition(" ")
    if verb not in verbs.DONE_FIRST or re.search(r"\band (?:then )?\w+ed\b", rest):
        return None
    return verbs.DONE_FIRST[verb], f" {rest}" if rest else ""


def one_of(words: Sequence[str]) -> str:
    """Return what is looked for as a list: `cracks or wear`; `oil or grease, or cracks`."""
    *others, last = words
    if not others or not any(" or " in each for each in words):
        return " or ".join(filter(None, (", ".join(others), last)))
    return f"{', '.join(others)}, or {last}"


def of_it(measured: str, name: str) -> str:
    """Return what is measured on a thing, without the thing: the `run-out of the shaft` of a `crankshaft`."""
    what, _, whose = measured.rpartition(" of ")
    whose = whose.lower().removeprefix("the ")
    return what if what and name.lower().endswith(whose) else measured


def stopped(words: str) -> str:
    """Return an author's words for where a job ends: who reads "Stop here" first would leave the engine running."""
    if _SWITCHED_OFF.match(words):
        return f"Go no further: {words[:1].lower()}{words[1:]}"
    return f"Stop here. {words}"
