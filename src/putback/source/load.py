"""YAML text to a tree that knows the place of every key and value.

Only plain YAML is taken: no anchors, aliases, merge keys or tags, one document a file, no key twice. Scalars
stay text; `plain()` gives the values that a JSON Schema sees. Reading goes through the C parser of
ruamel.yaml, event by event: a round-trip load costs some sixty times as much.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from _ruamel_yaml import CParser
from ruamel.yaml.error import YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from putback.source.characters import refused, refused_escape
from putback.source.finding import Also, Finding, Level
from putback.source.intake import Disk, NotReadError, Store
from putback.source.misread import misread
from putback.source.plainly import printable
from putback.source.quoting import quote
from putback.source.span import Span, top_of
from putback.source.tree import Listing, Mapping, Node, Pair, Plain, Text

__all__ = ["Listing", "Loaded", "Mapping", "Node", "Pair", "Plain", "Text", "load", "load_text"]

_LOST = re.compile(r" +#[0-9]")  # looks like a number of the trade, and is a comment

_WRITE_OUT = "write it out in full; what is shared is reused by name"
_DEEPEST = 50
"""Levels of nesting; a guide needs fewer than a dozen."""


@dataclass(slots=True)
class Loaded:
    """A file that was read, as far as it could be."""

    path: str
    """The file as the user would name it."""
    text: str = ""
    """Its characters."""
    root: Node | None = None
    """The tree; None when the file could not be read."""
    faults: list[Finding] = field(default_factory=list)
    """What was wrong, all of it."""
    unreadable: bool = False
    """True when it is no YAML at all, and so nothing in it was looked at."""


def load(path: Path, shown: str | None = None, store: Store | None = None) -> Loaded:
    """Read one YAML file.

    `shown` is the name to print in messages. Faults of reading are findings in the result; nothing is raised.
    """
    name = shown if shown is not None else printable(str(path))
    try:
        data = (store or Disk()).read(path).removeprefix(codecs.BOM_UTF8)
    except NotReadError as error:
        finding = Finding("unread-file", Level.ERROR, top_of(name), f"the file cannot be read: {error}")
        return Loaded(name, "", None, [finding], unreadable=True)
    try:
        text = data.decode()
    except UnicodeDecodeError as error:
        before = data[: error.start].decode().replace("\r\n", "\n").replace("\r", "\n")
        problem = f"the file is not UTF-8 text (byte 0x{data[error.start]:02x})"
        return _failed(name, "", _place(name, before, len(before)), problem, "save it with the encoding UTF-8")
    return load_text(text, name)


def load_text(text: str, name: str) -> Loaded:
    """Read YAML from a string, as if from the file `name`."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if found := refused(text):
        # Where a hidden line separator stands, the parser starts a new line and no editor does: places would be wrong.
        return _failed(name, text, _place(name, text, found.place), found.problem, "remove it")
    loaded = Loaded(name, text)
    try:
        loaded.root = _Composer(text, name, loaded.faults).document()
    except _TooDeepError as error:
        problem = f"the file is nested more than {_DEEPEST} levels deep"
        return _failed(name, text, error.span, problem, "use far fewer levels")
    except (YAMLError, TypeError, ValueError) as error:
        # The library raises others than its own for some keys that are no text.
        line, column, problem, hint = misread(text, error)
        return _failed(name, text, Span(name, line, column, line, column + 1), problem, hint)
    if loaded.root is None:
        loaded.faults.append(Finding("not-yaml", Level.ERROR, top_of(name), "the file is empty"))
    return loaded


def _failed(name: str, text: str, span: Span, message: str, hint: str | None) -> Loaded:
    finding = Finding("not-yaml", Level.ERROR, span, message, hint=hint)
    return Loaded(name, text, None, [finding], unreadable=True)


def _place(name: str, text: str, index: int) -> Span:
    line = text.count("\n", 0, index) + 1
    column = index - text.rfind("\n", 0, index)
    return Span(name, line, column, line, column + 1)


class _TooDeepError(Exception):
    def __init__(self, span: Span) -> None:
        self.span = span


class _Composer:
    """A loop over parser events that builds the tree and notes what plain YAML does not allow.

    Events are `Any`: ruamel.yaml declares too little of them for a type checker.
    """

    def __init__(self, text: str, name: str, faults: list[Finding]) -> None:
        self.parser = CParser(text)
        self.name = name
        self.faults = faults
        self.depth = 0
        self.text = text
        self.lines = text.split("\n")
        self.may_lose = _LOST.search(text) is not None

    def events(self) -> Iterator[Any]:
        while self.parser.check_event():
            yield self.parser.get_event()

    def span(self, event: Any, end: Any = None) -> Span:
        start, stop = event.start_mark, (end or event).end_mark
        if stop.line == len(self.lines):
            # The parser counts a line more when the file does not end in a line end.
            line, column = len(self.lines), len(self.lines[-1]) + 1
            if start.line == line:
                return Span(self.name, line, column, line, column)
            return Span(self.name, start.line + 1, start.column + 1, line, column)
        return Span(self.name, start.line + 1, start.column + 1, stop.line + 1, stop.column + 1)

    def refuse(self, span: Span, message: str, hint: str | None = None) -> None:
        self.faults.append(Finding("not-plain", Level.ERROR, span, message, hint=hint))

    def document(self) -> Node | None:
        root: Node | None = None
        documents = 0
        events = self.events()
        for event in events:
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if event.version or event.tags:
                    self.refuse(self.span(event), "a directive is not allowed here", "delete it")
                if documents == 2:
                    self.refuse(self.span(event), "a second document starts here", "keep one document per file")
            elif isinstance(event, ScalarEvent | MappingStartEvent | SequenceStartEvent | AliasEvent):
                node = self.node(event, events)
                if documents == 1 and not (isinstance(node, Text) and not node.quoted and node.value == ""):
                    root = node
        return root

    def node(self, event: Any, events: Iterator[Any]) -> Node:
        if event.anchor is not None or event.tag is not None:
            self.refuse_extras(event)
        if isinstance(event, ScalarEvent):
            return self.scalar(event)
        if isinstance(event, AliasEvent):
            return Text("", self.span(event), quoted=True)
        if self.depth == _DEEPEST:
            line, column = event.start_mark.line + 1, event.start_mark.column + 1
            raise _TooDeepError(Span(self.name, line, column, line, column + 1))
        self.depth += 1
        sequence = isinstance(event, SequenceStartEvent)
        node = self.listing(event, events) if sequence else self.mapping(event, events)
        self.depth -= 1
        return node

    def refuse_extras(self, event: Any) -> None:
        if isinstance(event, AliasEvent):
            self.refuse(self.span(event), f"{quote(f'*{event.anchor}')} is an alias", _WRITE_OUT)
            return
        if event.anchor is not None:
            self.refuse(self.span(event), f"{quote(f'&{event.anchor}')} is an anchor", _WRITE_OUT)
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self.refuse(self.span(event), f"{quote(tag)} is a tag", "write the value without a tag")

    def scalar(self, event: Any) -> Text:
        if event.style in (None, ""):
            span = self.span(event)
            if self.may_lose:
                self.look_for_lost_words(span)
            if span.end_line == span.line:
                return Text(event.value, span, quoted=False)
        else:
            span = self.quoted_span(event)
            if event.style == '"' and (found := refused(event.value, around=self.text)):
                self.refuse(self.escape(span), found.problem, "remove it")
        written = self.text[event.start_mark.index : event.end_mark.index]
        return Text(event.value, span, event.style not in (None, ""), written)

    def escape(self, span: Span) -> Span:
        """Return the place of the first escape in a text in double quotes that stands for a refused character."""
        column = span.column
        for line in range(span.line, span.end_line + 1):
            if found := refused_escape(self.lines[line - 1], column - 1, self.text):
                return Span(self.name, line, found.start() + 1, line, found.end() + 1)
            column = 1
        return span

    def look_for_lost_words(self, span: Span) -> None:
        """`screwdriver #2` without quotes is only `screwdriver`: what stands after ` #` is a comment."""
        rest = self.lines[span.end_line - 1][span.end_column - 1 :] if span.end_line <= len(self.lines) else ""
        if _LOST.match(rest):
            lost = span._replace(line=span.end_line, column=span.end_column, end_column=span.end_column + len(rest))
            message = f"{quote(rest)} is ignored: what follows ' #' is a comment"
            self.faults.append(Finding("not-plain", Level.ERROR, lost, message, hint="put the text in quotes"))

    def quoted_span(self, event: Any) -> Span:
        start, stop = event.start_mark, event.end_mark
        if event.style in ("|", ">") and stop.line > start.line:
            # The parser notices the end of a block scalar only at the next thing: go back to its last line.
            last = stop.line if stop.column else stop.line - 1
            while last > start.line and not self.lines[last].strip():
                last -= 1
            return Span(self.name, start.line + 1, start.column + 1, last + 1, len(self.lines[last]) + 1)
        return self.span(event)

    def listing(self, start: Any, events: Iterator[Any]) -> Listing:
        items: list[Node] = []
        for event in events:
            if isinstance(event, SequenceEndEvent):
                return Listing(items, self.closed(start, event, items[-1].span if items else None))
            items.append(self.node(event, events))
        raise AssertionError("the parser ends every sequence that it starts")

    def mapping(self, start: Any, events: Iterator[Any]) -> Mapping:
        entries: dict[str, Pair] = {}
        last: Span | None = None
        again: tuple[str, int] | None = None
        for event in events:
            if isinstance(event, MappingEndEvent):
                return Mapping(entries, self.closed(start, event, last))
            key = self.node(event, events)
            value = self.node(next(events), events)
            last = value.span
            if not isinstance(key, Text):
                self.refuse(key.span, "a key must be a plain name, not a list or a mapping")
            elif key.value != " ".join(key.value.split()) and not refused(key.value):
                problem = f"the key {quote(key.value)} has spaces or line ends that cannot be seen"
                self.refuse(key.span, problem, f"write {quote(key.value)} on one line")
            elif key.value == "<<" and not key.quoted:
                self.refuse(key.span, "'<<' is a merge key", _WRITE_OUT)
            elif key.value in entries:
                line = entries[key.value].key.span.line
                problem = f"the key {quote(key.value)} is here a second time; the first is on line {line}"
                if again is None or again[0] == key.value:
                    again = (key.value, len(self.faults))
                    self.refuse(key.span, problem, "keep one of them")
                else:
                    # The next item of a list lost its dash, and all of its keys stand here.
                    first = self.faults[again[1]]
                    also = (*first.also, Also(key.span, f"so does {quote(key.value)}"))
                    hint = "keep one of each, or write '- ' before this one if a new item begins here"
                    self.faults[again[1]] = replace(first, also=also, hint=hint)
            else:
                entries[key.value] = Pair(key, value)
        raise AssertionError("the parser ends every mapping that it starts")

    def closed(self, start: Any, end: Any, last: Span | None) -> Span:
        """A block ends where its last value ends, not on the line where the parser noticed."""
        if start.flow_style or last is None:
            return self.span(start, end)
        mark = start.start_mark
        return Span(self.name, mark.line + 1, mark.column + 1, last.end_line, last.end_column)
