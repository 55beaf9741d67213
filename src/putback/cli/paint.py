"""Colour on a terminal, and none elsewhere."""

from __future__ import annotations

import os
import sys
from contextlib import AbstractContextManager, nullcontext
from typing import TextIO

import click

from putback.lint.report import Paint, plain
from putback.source.plainly import printable

_STYLES: dict[str, dict[str, object]] = {
    "path": {"underline": True},
    "error": {"fg": "red", "bold": True},
    "warning": {"fg": "yellow", "bold": True},
    "advice": {"fg": "cyan", "bold": True},
    "mark": {"fg": "red"},
    "hint": {"fg": "green"},
    "check": {"dim": True},
    "good": {"fg": "green"},
    "bad": {"bold": True},
}


def _is_terminal(stream: TextIO | None) -> bool:
    """Tell whether a stream is a terminal; one that was closed from the beginning is None."""
    return stream is not None and stream.isatty()


def painter() -> Paint:
    """Return how to colour: only on a terminal, and not when NO_COLOR is set (no-color.org)."""
    if not _is_terminal(sys.stdout) or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return plain
    return lambda text, role: click.style(text, **_STYLES.get(role, {}))  # type: ignore[arg-type]


def progress(words: str) -> AbstractContextManager[object]:
    """Return a context that shows what is being done while it lasts: on a terminal only, and gone afterwards."""
    if not _is_terminal(sys.stderr) or os.environ.get("TERM") == "dumb":
        return nullcontext()
    from rich.console import Console
    from rich.text import Text

    # As a text: in a string, brackets of a folder's name would be taken for colours.
    return Console(stderr=True, no_color=bool(os.environ.get("NO_COLOR"))).status(Text(printable(words)))
