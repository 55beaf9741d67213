"""The editions of a guide: what changed in each, for who works by it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from putback.model.reading import Reader
from putback.model.said import Said
from putback.source.span import Span
from putback.source.tree import Listing, Mapping, Node


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """One edition."""

    edition: Said
    """What it is called: a number, or words."""
    date: Said
    """Its day, as 2026-11-25."""
    changes: tuple[Said, ...]
    """What a mechanic finds changed."""
    span: Span
    """The place of its first key."""


def read_revisions(reader: Reader, node: Node | None) -> Iterator[Revision]:
    """Yield the editions in a list of a good shape."""
    for item in node.items if isinstance(node, Listing) else ():
        if isinstance(item, Mapping):
            edition, date = reader.text(item.get("edition")), reader.text(item.get("date"))
            if isinstance(edition, Said) and isinstance(date, Said):
                first = next(iter(item.entries.values())).key.span
                yield Revision(edition=edition, date=date, changes=_said(reader.texts(item.get("changes"))), span=first)


def _said(texts: tuple[str, ...]) -> tuple[Said, ...]:
    return tuple(text for text in texts if isinstance(text, Said))
