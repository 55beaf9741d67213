"""`--variant OPTION=VALUE`, as often as wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from putback.variants import Choice


def parse_choice(words: tuple[str, ...]) -> Choice:
    """Return the choices of a command line. Raises `click.UsageError` for one that is none."""
    choice: dict[str, str] = {}
    for word in words:
        option, equals, value = word.partition("=")
        if not (option and equals and value):
            raise click.UsageError(f"--variant takes OPTION=VALUE, such as shaft=long, not '{word}'")
        if choice.get(option, value) != value:
            raise click.UsageError(f"--variant has two values for '{option}': '{choice[option]}' and '{value}'")
        choice[option] = value
    return tuple(choice.items())
