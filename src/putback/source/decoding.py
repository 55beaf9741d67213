"""Bytes of a prose page to its characters."""

from __future__ import annotations

import codecs

from putback.source.characters import refused
from putback.source.finding import Finding, Level
from putback.source.span import Span


def decode(data: bytes, shown: str) -> str | Finding:
    """Return the characters of a page, with line ends made alike; the finding when it is no text that may be shown."""
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode().replace("\r\n", "\n").replace("\r", "\n")
        if not (found := refused(text)):
            return text
        line, column = text.count("\n", 0, found.place) + 1, found.place - text.rfind("\n", 0, found.place)
        span = Span(shown, line, column, line, column + 1)
        return Finding("unread-file", Level.ERROR, span, found.problem, hint="remove it")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode().replace("\r\n", "\n").replace("\r", "\n")
        line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
        message = f"the file is not UTF-8 text (byte 0x{data[error.start]:02x})"
        span = Span(shown, line, column, line, column + 1)
        return Finding("unread-file", Level.ERROR, span, message, hint="save it with the encoding UTF-8")
