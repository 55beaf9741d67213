"""Kinds of fasteners and lines, as messages: authors name them by these words of the trade."""

from __future__ import annotations

from putback.words.telling import Message

KINDS = {
    # Translators: a kind of fastener, in a table.
    "bolt": Message("kind", "bolt"),
    "nut": Message("kind", "nut"),
    "screw": Message("kind", "screw"),
    "set screw": Message("kind", "set screw"),
    # Translators: a rod with a thread at each end.
    "stud": Message("kind", "stud"),
    # Translators: what closes a hole.
    "plug": Message("kind", "plug"),
    # Translators: what closes an opening and is screwed on.
    "cap": Message("kind", "cap"),
    "clip": Message("kind", "clip"),
    "circlip": Message("kind", "circlip"),
    "pin": Message("kind", "pin"),
    "split pin": Message("kind", "split pin"),
    "clamp": Message("kind", "clamp"),
    "washer": Message("kind", "washer"),
    "spark plug": Message("kind", "spark plug"),
    # Translators: a kind of line, in a table.
    "hose": Message("kind", "hose"),
    "pipe": Message("kind", "pipe"),
    "tube": Message("kind", "tube"),
    "cable": Message("kind", "cable"),
    # Translators: of an electric line.
    "connector": Message("kind", "connector"),
    # Translators: rods and levers that move something.
    "linkage": Message("kind", "linkage"),
}
"""Kinds, by how a file calls them."""
