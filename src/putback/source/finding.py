"""What a check has to say, and where."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from putback.source.span import Span


class Level(StrEnum):
    """How much a finding matters."""

    ERROR = "error"
    """The guide must not be used or printed like this."""
    WARNING = "warning"
    """Probably wrong; a person should look."""
    ADVICE = "advice"
    """Right, but could serve the reader better."""


class Also(NamedTuple):
    """A second place that belongs to a finding, such as the earlier step that caused it."""

    span: Span
    """Where."""
    message: str
    """What happened there."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault at one place. It cannot exist without a place."""

    check: str
    """The name of the check, as in `putback explain CHECK`."""
    level: Level
    """How much it matters."""
    span: Span
    """The place to look at first."""
    message: str
    """What was found and what was expected: lower case, no final stop, things by their names."""
    also: tuple[Also, ...] = ()
    """Other places that explain it, earliest first."""
    hint: str | None = None
    """What would be right, when there is one good answer."""
    variant: tuple[tuple[str, str], ...] = ()
    """The smallest choice of options under which it holds; empty when it holds for every variant."""

    @property
    def order(self) -> tuple[str, int, int, str, str]:
        """The key that sorts findings as a reader meets them: by file, then by place."""
        return (self.span.path, self.span.line, self.span.column, self.check, self.message)
