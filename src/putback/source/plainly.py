"""Text of somebody's files as it is shown: what a terminal or a reader would obey, and not see, is written out.

A file can be called `a<ESC>[2Jb`: printed as it is, it would clear the screen.
"""

from __future__ import annotations

import re

from putback.source.late import Late

_UNSEEN = Late("[\\x00-\\x1f\\x7f-\\x9f\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069\\ufeff\\ud800-\\udfff]")
"""Control characters, line separators, signs that turn the order of letters, and bytes that are no letters."""


def printable(text: str) -> str:
    """Return a text on one line, with everything that cannot be seen as its number: `\\x1b`, `\\u202e`."""
    return _UNSEEN.sub(lambda found: _number(found[0]), text)


def in_json(text: str) -> str:
    """Return a JSON document with the same signs as JSON writes them, `\\u009b`; its meaning stays."""
    return _OUTSIDE.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


def in_xml(text: str) -> str:
    """Return an XML document without commands of the log of a CI platform; its meaning stays."""
    return _IN_LOG.sub("&#35;", _LEADING.sub(r"\1&#58;:", text))


def not_obeyed(text: str) -> str:
    """Return lines in which the log of a CI platform finds no command of somebody else's: `\\x23#vso[…]`."""
    whole = _LEADING.sub(lambda found: f"{found[1]}{_number(':')}:", text)
    return _IN_LOG.sub(lambda _: _number("#"), whole)


_IN_LOG = Late("#(?=#\\w*\\[)")
"""What begins a command wherever it is in the log of a CI platform: `##vso[…]`, `##[…]`."""

_LEADING = Late("^([ \\t]*)::", re.MULTILINE)
"""What begins a command at the beginning of a line: `::error::`."""

_OUTSIDE = Late(
    "[\\x7f-\\x9f\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069\\ufeff\\ud800-\\udfff]|" + _IN_LOG.pattern
)


def _number(letter: str) -> str:
    code = ord(letter)
    if 0xDC80 <= code <= 0xDCFF:
        # A byte of a file name that is no UTF-8, as Python keeps it.
        return f"\\x{code - 0xDC00:02x}"
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
