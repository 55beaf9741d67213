"""What a kind of drawing is given, and what it gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.sheet import JobSheet
from putback.sheet.stacked import TakenApart
from putback.sphinxext import nodes as own
from putback.words import Language


@dataclass(frozen=True, slots=True)
class OnPage:
    """The page of a job that drawings stand on."""

    job: Job | Block
    """The job, or a block that is printed alone."""
    sheet: JobSheet
    """All that its page prints."""
    opened: Opened
    """Its guide."""
    words: Language
    """The words of its guide."""
    shown: dict[str, str] = field(default_factory=dict)
    """The number of the step at which each drawing or picture stands."""
    stacks: Mapping[int, Sequence[TakenApart]] = field(default_factory=dict)
    """The stacks that are drawn at a step, by its order in the job."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A drawing that would help at a step."""

    key: str
    """What it shows: of two with the same key, the second is not shown."""
    node: own.drawing
    """The drawing."""
    see: Callable[[str], str] | None = None
    """Says where it stands already, by the number of the step; None when nobody need be sent there."""
