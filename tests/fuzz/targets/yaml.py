"""Reading a file: every value knows the place from which it can be cut out."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from putback.model.said import Said
from putback.prose.pages import passage_of
from putback.source.intake import Memory
from putback.source.load import Listing, Loaded, Mapping, Node, Text, load
from putback.source.span import Span
from tests.fuzz.targets.promises import hold, hold_findings, hold_place

NAME = "machine.yaml"


def read(data: bytes) -> Loaded:
    """Read a file of these bytes."""
    path = Path("/guide") / NAME
    return load(path, NAME, Memory({path: data}))


def attempt(data: bytes) -> str:
    """Read a file, and cut every value out of it again."""
    loaded = read(data)
    told = hold_findings(loaded.faults, NAME, data)
    hold(loaded.root is not None or bool(loaded.faults), "nothing was read, and nothing says so")
    if loaded.root is None:
        return told
    for node, around in _nodes(loaded.root, None):
        hold_place("a value", node.span, data)
        if around is not None:
            hold(_within(node.span, around), "a value that is not within what holds it", f"{node.span} in {around}")
        if isinstance(node, Text) and not loaded.faults:  # a tag or an alias stands where a value should
            _hold_text(node, loaded.text)
    return f"{told}\n{json.dumps(loaded.root.plain(), ensure_ascii=True)}"


def _nodes(node: Node, around: Span | None) -> Iterator[tuple[Node, Span | None]]:
    yield node, around
    match node:
        case Listing(items=items):
            for item in items:
                yield from _nodes(item, node.span)
        case Mapping(entries=entries):
            for key, value in entries.values():
                yield key, node.span
                yield from _nodes(value, node.span)


def _within(inner: Span, outer: Span) -> bool:
    return (outer.line, outer.column) <= (inner.line, inner.column) and (
        (inner.end_line, inner.end_column) <= (outer.end_line, outer.end_column)
    )


def _hold_text(node: Text, text: str) -> None:
    cut = node.span.cut(text)
    if node.quoted:
        hold(cut[:1] in ("'", '"', "|", ">", "*", "&", "!"), "a quoted value without its quote", f"{cut!r} {node}")
    elif node.written is None:
        hold(cut == node.value, "a value that is not cut out of the file", f"{cut!r} {node.value!r}")
    else:
        hold(cut.split() == node.value.split(), "a value of several lines that is not cut out", f"{cut!r} {node}")
    words = Said(" ".join(node.value.split()), node.span, node.written or node.value)
    passage, start = passage_of(words), 0
    for word in words.split():
        start = words.index(word, start)
        place = passage.span(start, start + len(word))
        if passage.runs:
            found = place.cut(text)
            hold(found == word or "'" in word, "a word that is not at its place", f"{word!r} {found!r}")
        start += len(word)
