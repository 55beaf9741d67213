"""A catalogue: the file of a guide's translations into one language, in the form of gettext.

Whoever translates may have had any program write it, so it is read with care: with limits, each fault with its place,
and nothing in it but texts.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import PurePath
from typing import NamedTuple

from putback.guide.texts import CATALOGUES
from putback.source.late import Late
from putback.source.quoting import quote
from putback.source.span import Span
from putback.translation.wording import TextKey

MOST_ENTRIES = 20_000
"""Entries that a catalogue may have."""
LONGEST = 10_000
"""Characters that a text may have."""
_LINE = Late(r'[ \t]*(?:(msgctxt|msgid|msgid_plural|msgstr)(?:\[[0-9]+\])?[ \t]+)?"((?:[^"\\]|\\.)*)"[ \t]*')
_CLOSED = Late(r'[ \t]*(?:(?:msgctxt|msgid|msgstr)[ \t]+)?"(?:[^"\\]|\\.)*"')
_OPENED = Late(r'(?<=[\s\]])"(?:[^"\\]|\\.)*\\?$|^"(?:[^"\\]|\\.)*\\?$')
_MERGE = Late(r"(?:<{7}|={7}|>{7}|\|{7})(?: .*)?")
_OTHER_QUOTES = Late(r"[ \t]*(?:(?:msgctxt|msgid|msgstr)[ \t]+)?(?=[„“”«»‘’'])")
_NO_BLANK = Late(r'[ \t]*(msgctxt|msgid|msgstr)(?=")')
_ESCAPE = Late(r"\\(.)")
_ESCAPES = {"n": "\n", "t": "\t", '"': '"', "\\": "\\", "r": "\r"}
_LANGUAGE = Late(r"^Language:[ \t]*([A-Za-z]+)", re.MULTILINE)
_CHARSET = Late(r"charset=([^\s;\\]+)", re.IGNORECASE)


_NOWHERE = Span("", 1, 1, 1, 1)


class PoFault(NamedTuple):
    """What is wrong with a catalogue."""

    span: Span
    """Where."""
    message: str
    """What."""
    hint: str | None = None
    """What would be right."""


@dataclass(slots=True)
class PoEntry:
    """One entry of a catalogue."""

    context: str = ""
    """Where the text belongs."""
    text: str = ""
    """The text of the guide."""
    told: str = ""
    """Its translation; nothing where there is none."""
    fuzzy: bool = False
    """Whether somebody must look at it: the text of the guide has changed."""
    previous: str = ""
    """What the text was when it was translated, where that has changed."""
    remarks: list[str] = field(default_factory=list)
    """What a translator remarked."""
    span: Span = _NOWHERE
    """Where the text stands."""
    told_span: Span = _NOWHERE
    """Where the translation stands."""

    @property
    def key(self) -> TextKey:
        """What it is known by."""
        return TextKey(self.context, self.text)


@dataclass(slots=True)
class PoFile:
    """What a catalogue says."""

    path: str
    """The file, as shown."""
    entries: dict[TextKey, PoEntry] = field(default_factory=dict)
    """By context and text."""
    unused: list[PoEntry] = field(default_factory=list)
    """Those of texts that the guide no longer has."""
    faults: list[PoFault] = field(default_factory=list)
    """What is wrong with the file."""

    language: str = ""
    """The language that it says it has, without a region; nothing where it does not say."""

    @property
    def tag(self) -> str:
        """The tag of its language."""
        return tag_of(self.path)

    def is_of(self, tag: str) -> bool:
        """Tell whether it may be a catalogue of a language: it says so, or does not say."""
        return not self.language or self.language.casefold() == tag.partition("-")[0].casefold()


def tag_of(path: str) -> str:
    """Return the tag of a catalogue's language: `pt-BR` of `translations/pt_BR.po`."""
    return PurePath(path).stem.replace("_", "-")


@lru_cache(maxsize=16)
def read_catalogue(path: str, text: str) -> PoFile:
    """Return what a catalogue says. Nothing is raised: its faults are in it. Whoever asks must not change it."""
    return _PoReader(path, text).read()


class _WrongPoError(Exception):
    def __init__(self, line: int, column: int, message: str, hint: str | None = None) -> None:
        self.line, self.column, self.message, self.hint = line, column, message, hint


class _PoReader:
    """Reads line by line; the first fault of form ends it, since what comes after would be guessed."""

    def __init__(self, path: str, text: str) -> None:
        self.file = PoFile(path)
        self.lines = text.split("\n")
        self.entry = PoEntry()
        self.parts: dict[str, str] = {}
        self.places: dict[str, Span] = {}
        self.last = ""
        self.old = False

    def read(self) -> PoFile:
        """Read all of it."""
        try:
            for number, line in enumerate(self.lines, 1):
                self.line(number, line)
            self.end(len(self.lines))
        except _WrongPoError as error:
            span = self.span(error.line, error.column, error.column + 1)
            self.file.faults.append(PoFault(span, error.message, error.hint))
        return self.file

    def span(self, line: int, start: int, end: int) -> Span:
        return Span(self.file.path, line, start, line, end)

    def line(self, number: int, line: str) -> None:
        """Take one line."""
        if not line.strip():
            self.end(number)
        elif line.startswith("#~"):
            if "msgstr" not in self.parts and self.parts and not self.old:
                raise _WrongPoError(number, 1, "an entry is not finished: it has no msgstr")
            rest = line[2:]
            if rest.lstrip().startswith("msgctxt") or ("msgstr" in self.parts and rest.lstrip().startswith("msgid")):
                self.end(number)
            self.old = True
            if rest.lstrip().startswith("|"):
                return
            self.words(number, rest, 2)
        elif line.startswith("#"):
            self.comment(number, line)
        else:
            self.words(number, line, 0)

    def comment(self, number: int, line: str) -> None:
        if "msgstr" in self.parts:
            self.end(number)
        if line.startswith("#,"):
            self.entry.fuzzy |= "fuzzy" in re.split(r"[,\s]+", line[2:])
        elif line.startswith("#|"):
            rest = line[2:].lstrip()
            found = _LINE.fullmatch(rest)
            if found and (found[1] == "msgid" or (found[1] is None and self.last == "#|")):
                self.entry.previous += self.unescaped(found[2], number, line.index('"') + 1)
                if len(self.entry.previous) > LONGEST:
                    raise _WrongPoError(number, 1, f"a text is longer than {LONGEST:,} characters")
                self.last = "#|"
            else:
                self.last = ""
        elif line == "#" or line.startswith("# "):
            self.entry.remarks.append(line[2:])

    def words(self, number: int, line: str, skipped: int) -> None:
        """Take a keyword with its text, or one more line of a text."""
        found = _LINE.fullmatch(line)
        if not found:
            at, problem, hint = _unlike(line)
            raise _WrongPoError(number, skipped + at + 1, problem, hint)
        word, start = found[1], skipped + line.index('"') + 1
        said = self.unescaped(found[2], number, start + 1)
        span = self.span(number, start, skipped + len(line.rstrip()) + 1)
        if word is None:
            if self.last not in self.parts:
                raise _WrongPoError(number, start, "this text belongs to nothing")
            self.parts[self.last] += said
            self.places[self.last] = self.places[self.last]._replace(end_line=number, end_column=span.end_column)
        else:
            self.keyword(word, said, span, number)
        if len(self.parts[self.last]) > LONGEST:
            raise _WrongPoError(number, start, f"a text is longer than {LONGEST:,} characters")

    def keyword(self, word: str, said: str, span: Span, number: int) -> None:
        if "msgstr" in self.parts and word != "msgstr":
            self.end(number)
        if word == "msgid_plural":
            raise _WrongPoError(number, 1, "an entry with plural forms; a guide has a text of its own for several")
        if word in self.parts or (word == "msgstr" and "msgid" not in self.parts):
            raise _WrongPoError(number, 1, f"'{word}' is not expected here")
        if word == "msgctxt" and "msgid" in self.parts:
            raise _WrongPoError(number, 1, "'msgctxt' is not expected here: it comes before 'msgid'")
        self.parts[word], self.places[word], self.last = said, span, word

    def unescaped(self, raw: str, number: int, column: int) -> str:
        def one(found: re.Match[str]) -> str:
            if found[1] not in _ESCAPES:
                problem = f"{quote(found[0][:2])} is no escape of a catalogue"
                raise _WrongPoError(number, column + found.start(), problem, "write a backslash as \\\\")
            return _ESCAPES[found[1]]

        return _ESCAPE.sub(one, raw)

    def end(self, number: int) -> None:
        """Take the entry that ends before a line."""
        if self.parts:
            if "msgstr" not in self.parts:
                hint = 'write msgstr "" where there is no translation yet'
                problem = "an entry is not finished: it has no msgstr"
                raise _WrongPoError(min(number, len(self.lines)), 1, problem, hint)
            self.take()
        if self.parts or not self.lines[number - 1].startswith("#"):
            self.entry, self.parts, self.places, self.last, self.old = PoEntry(), {}, {}, "", False

    def take(self) -> None:
        entry, parts = self.entry, self.parts
        entry.context, entry.text, entry.told = parts.get("msgctxt", ""), parts["msgid"], parts["msgstr"]
        entry.span, entry.told_span = self.places["msgid"], self.places["msgstr"]
        if self.old:
            self.file.unused.append(entry)
        elif entry.text == "" and not entry.context:
            self.head(entry)
        elif entry.key in self.file.entries:
            line = self.file.entries[entry.key].span.line
            problem = f"this text is here a second time; the first is on line {line}"
            self.file.faults.append(PoFault(entry.span, problem, "keep the entry that is right, and remove the other"))
        else:
            self.file.entries[entry.key] = entry
        if len(self.file.entries) + len(self.file.unused) > MOST_ENTRIES:
            raise _WrongPoError(entry.span.line, 1, f"there are more than {MOST_ENTRIES:,} entries")

    def head(self, entry: PoEntry) -> None:
        found = _CHARSET.search(entry.told)
        if found and found[1].casefold() not in ("utf-8", "utf8", "charset"):
            problem = f"it says that its characters are {found[1][:40]}; they must be UTF-8"
            hint = "save the file as UTF-8, and write charset=UTF-8"
            self.file.faults.append(PoFault(entry.told_span, problem, hint))
        language = _LANGUAGE.search(entry.told)
        self.file.language = language[1] if language else ""
        place = PurePath(self.file.path)
        if place.parent.name == CATALOGUES and not self.file.is_of(self.file.tag):
            problem = f"it says that its language is {self.file.language[:40]}, and its name that it is {self.file.tag}"
            hint = f"put the catalogue of {self.file.tag} here, or correct the line Language"
            self.file.faults.append(PoFault(entry.told_span, problem, hint))


def _unlike(line: str) -> tuple[int, str, str]:
    """Return where a line is no line of a catalogue, counted from 0, what is wrong, and what would be right."""
    start = len(line) - len(line.lstrip())
    if _MERGE.fullmatch(line):
        return start, "here are two versions that a merge left", "keep one of them, and remove the lines of marks"
    if other := _OTHER_QUOTES.match(line):
        return other.end(), "a text stands between straight quotes", 'write " before and after the text'
    if joined := _NO_BLANK.match(line):
        return joined.end(), f"there is no blank after {joined[1]}", "put one there"
    closed = _CLOSED.match(line)
    if closed and line[closed.end() :].strip():
        return closed.end() - 1, "the text ends here, but its line goes on", 'write a quote within a text as \\"'
    if opened := _OPENED.search(line):
        return opened.start(), "this text has no quote at its end", 'end the line with "'
    return start, "this is no line of a catalogue", "a line begins with msgctxt, msgid, msgstr, a quote or #"
