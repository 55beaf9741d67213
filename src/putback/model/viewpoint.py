"""Reads from where a thing is seen: the words that are printed after "seen from"."""

from __future__ import annotations

import re

from putback.model.reading import Reader
from putback.source.finding import Finding, Level
from putback.source.late import Late
from putback.source.quoting import quote
from putback.source.tree import Node

_SAID_ALREADY = Late(r"(?:(?:as )?seen )?from ", re.IGNORECASE)


def read_viewpoint(reader: Reader, node: Node | None) -> str | None:
    """Return the words; those that would be printed twice are a finding."""
    whence: str | None = reader.text(node)
    said = _SAID_ALREADY.match(whence) if whence else None
    if node is None or whence is None or said is None:
        return whence
    rest = whence[said.end() :].strip()
    message, hint = f"{quote(whence)} is printed after 'seen from'", f"write '{rest}'"
    reader.faults.append(Finding("wrong-shape", Level.ERROR, node.span, message, hint=hint))
    return rest
