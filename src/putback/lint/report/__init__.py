"""Findings in the forms that people and programs read: a module each, named as in `putback lint --format NAME`.

A module is a `Report`. The first line of its docstring says what it is; nothing is registered anywhere.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, Protocol, cast

if TYPE_CHECKING:
    from putback.lint.result import Result

Paint = Callable[[str, str], str]
"""Takes a text and the name of its role; returns it as the terminal should show it."""


def plain(text: str, role: str) -> str:
    """Return the text as it is: no colour."""
    del role
    return text


class Report(Protocol):
    """A module that is a form of report."""

    FOR_PROGRAMS: bool
    """Whether programs read it: they get a report even when there was no guide to read."""

    def write(self, result: Result, paint: Paint = plain, /) -> str:
        """Return what was found, without a line end after it."""


def formats() -> list[str]:
    """Return the names of all forms, that for people first."""
    names = [info.name for info in iter_modules(__path__) if not info.name.startswith("_")]
    return sorted(names, key=lambda name: (name != "text", name))


def report_as(name: str) -> Report:
    """Return a form of report by its name."""
    return cast("Report", import_module(f"{__name__}.{name}"))
