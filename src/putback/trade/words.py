"""What a text says in words of the other side, or of no workshop at all, and how the guide's own side says it.

A word counts where it is meant as a word: not in capitals, as the label of a machine is printed, not between quotation
marks, and not with a capital letter inside a sentence, as in a name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum
from functools import cache
from typing import NamedTuple

from putback.source.grammar import plural
from putback.source.late import Late
from putback.trade.pairs import ENDS, ISE, PAIRS, TwoNames
from putback.trade.unsaid import UNSAID, Unsaid


class Side(Enum):
    """Whose words a guide is written in."""

    UK = "British"
    US = "American"

    @property
    def other(self) -> Side:
        """The other one."""
        return Side.US if self is Side.UK else Side.UK


class Misword(NamedTuple):
    """A word of a text that the guide's side has another one for."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last."""
    right: str
    """The word of the guide's side, as it stands there: in the plural, with a capital letter."""
    nobody: bool = False
    """Whether no side says it."""


class _Form(NamedTuple):
    """One form of a word of the other side."""

    words: str
    """As it stands in a text, in small letters but for abbreviations."""
    right: str
    """The same on the guide's side."""
    unless: str
    """A pattern of texts in which it is something else; empty for none."""


_SIDES = {"US": Side.US, "GB": Side.UK, "UK": Side.UK, "IE": Side.UK, "AU": Side.UK, "NZ": Side.UK, "ZA": Side.UK}
_WORD = Late(r"[a-z]+")
_OPENS_SENTENCE = Late(r"(?:^|[.!?:;(\[|–—]|\s-)\s*[\"“'‘*_]*$")


def side_of(tag: str | None) -> Side | None:
    """Return whose words a language tag asks for; None for `en` alone, and for other languages."""
    parts = (tag or "en").replace("_", "-").upper().split("-")
    return next((_SIDES[part] for part in parts if part in _SIDES), None) if is_english(tag) else None


def is_english(tag: str | None) -> bool:
    """Tell whether a language tag is one of English."""
    return (tag or "en").replace("_", "-").split("-")[0].lower() == "en"


def slips(text: str, side: Side, *, nobody: bool = True) -> list[Misword]:
    """Return what a text says in words of the other side, and with `nobody`, of none. Each line is a text by itself."""
    lower, found = text.lower(), list[Misword]()
    words = set(_WORD.findall(lower))
    foreign, unsaid = _foreign(side), _unsaid() if nobody else {}
    for key in words & foreign.keys():
        for start, line in _lines_with(key, lower, text):
            for form in foreign[key]:
                found += _foreign_in(line, start, form)
    for key in words & unsaid.keys():
        for start, line in _lines_with(key, lower, text):
            for said in unsaid[key]:
                found += _unsaid_in(line, start, said, side)
    last, kept = 0, list[Misword]()
    for slip in sorted(found, key=lambda slip: (slip.start, slip.start - slip.end)):
        if slip.start >= last:
            kept.append(slip)
            last = slip.end
    return kept


def _lines_with(key: str, lower: str, text: str) -> Iterator[tuple[int, str]]:
    """Yield the lines that have a word in them, with their places; in `lower`, the capitals of `text` are small."""
    at = lower.find(key) if len(lower) == len(text) else -1
    while at >= 0:
        start = text.rfind("\n", 0, at) + 1
        end = text.find("\n", at)
        end = len(text) if end < 0 else end
        yield start, text[start:end]
        at = lower.find(key, end)


def said_by(text: str, side: Side) -> str:
    """Return a text in the words of a side."""
    for slip in reversed(slips(text, side, nobody=False)):
        before = _with_article(text[: slip.start], text[slip.start], slip.right[0])
        text = f"{before}{slip.right}{text[slip.end :]}"
    return text


def _with_article(before: str, was: str, now: str) -> str:
    """Return what stands before a word, with `an` for `a` where the word was exchanged for one that asks for it."""
    vowel, vowels = now in "aeiouAEIOU", "aeiouAEIOU"
    if (was in vowels) != vowel and (article := re.search(r"\b([Aa])n? $", before)):
        return f"{before[: article.start()]}{article[1]}{'n' if vowel else ''} "
    return before


def _foreign_in(line: str, start: int, form: _Form) -> Iterator[Misword]:
    for match in _pattern(form.words).finditer(line):
        if _is_meant(line[: match.start()], match[0], form.words) and not _is_else(line, form.unless):
            yield Misword(start + match.start(), start + match.end(), _like(match[0], form.right))


def _is_else(line: str, unless: str) -> bool:
    return bool(unless) and _compiled(unless).search(line) is not None


def _unsaid_in(line: str, start: int, said: Unsaid, side: Side) -> Iterator[Misword]:
    for match in _compiled(said.pattern).finditer(line) if not _is_else(line, said.unless) else ():
        parts = match.groupdict()
        first, last = match.span("it") if parts.get("it") else match.span()
        number = parts.get("n") or parts.get("m") or ""
        right = (said.us if side is Side.US and said.us else said.uk).format(n=number)
        yield Misword(start + first, start + last, _like(line[first:last], right), nobody=True)


def _is_meant(before: str, said: str, words: str) -> bool:
    """Tell whether a word is meant as one, by what is before it: not as a label, as a name, or as others' words."""
    if before.count('"') % 2 or before.count("“") > before.count("”") or before.rstrip().endswith(("'", "‘", "/")):
        return False
    if words[0].isupper():
        return said[0].isupper()
    if said[:2].isupper():
        return False
    return said[0].islower() or _OPENS_SENTENCE.search(before) is not None


def _like(said: str, right: str) -> str:
    """Return the right words with a capital letter, and with a hyphen, where those said have one."""
    if "-" in said and " " not in said and right.count(" ") == 1:
        right = right.replace(" ", "-")
    return right[0].upper() + right[1:] if said[0].isupper() and said[1:2].islower() else right


@cache
def _pattern(words: str) -> re.Pattern[str]:
    """Return what finds the words of a form: whole ones, with a blank or a hyphen between them."""
    inside = re.escape(words).replace(r"\ ", "[ -]").replace(r"\-", "[ -]?")
    return re.compile(rf"(?<![\w-]){inside}(?![\w/]|-[0-9]|[.][a-z0-9])", re.IGNORECASE)


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


@cache
def _foreign(side: Side) -> dict[str, tuple[_Form, ...]]:
    """Return the forms that a side has other words for, by their longest word."""
    forms = [form for pair in PAIRS for form in _of_pair(pair, side)]
    forms += [_Form(uk, us, "") if side is Side.US else _Form(us, uk, "") for uk, us in _spelt(side)]
    found: dict[str, tuple[_Form, ...]] = {}
    for form in forms:
        head = max(_WORD.findall(form.words.lower()), key=len)
        found[head] = (*found.get(head, ()), form)
    return found


@cache
def _unsaid() -> dict[str, tuple[Unsaid, ...]]:
    """Return the wordings that nobody says, by each of their words."""
    found: dict[str, tuple[Unsaid, ...]] = {}
    for said in UNSAID:
        for key in said.keys.split():
            found[key] = (*found.get(key, ()), said)
    return found


def _of_pair(pair: TwoNames, side: Side) -> Iterator[_Form]:
    theirs, ours, unless = (pair.uk, pair.us, pair.not_uk) if side is Side.US else (pair.us, pair.uk, pair.not_us)
    if unless == ".":
        return
    right = ours.split("|")[0]
    for words in theirs.split("|"):
        yield _Form(words, right, unless)
        if not words.endswith(("s", "ing", "ed")):
            yield _Form(plural(words), right if right.endswith("s") else plural(right), unless)


def _spelt(side: Side) -> Iterator[tuple[str, str]]:
    """Yield words that are spelt in two ways: British, American."""
    for uk_ends, (beginnings, us_ends) in ENDS.items():
        for beginning in beginnings.split():
            for uk, us in zip(uk_ends.split(), us_ends.split(), strict=True):
                yield beginning + uk, beginning + us
    if side is Side.US:
        for beginning in ISE.split():
            for end in ("e", "ed", "es", "er", "ing", "ation", "able"):
                yield f"{beginning}is{end}", f"{beginning}iz{end}"
