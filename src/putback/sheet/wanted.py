"""What a job wants of something, with the variants and the branches that want it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from putback.model.terms import When
from putback.sheet.limits import Limits
from putback.sheet.survey import Branch, Survey
from putback.variants import NONE, VariantSet

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class LaidOut(Generic[T]):
    """Something to lay out."""

    what: T
    """It, or its name."""
    when: When | None
    """The variants that need it; None for all."""
    only_if: tuple[str, ...] = ()
    """The steps of which only a branch needs it; empty when it is needed in any case."""
    key: str = ""
    """Its name in the files, or what stands for it."""


class Wanted(Generic[T]):
    """What is wanted, by name, in the order in which the job calls for it."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.uses: dict[str, tuple[T, dict[Branch, VariantSet]]] = {}

    def add(self, name: str, what: T, branch: Branch, variants: VariantSet) -> None:
        """Note that a branch wants something in some variants."""
        if variants != NONE:
            _, uses = self.uses.setdefault(name, (what, {}))
            uses[branch] = self.survey.space.either(uses.get(branch, NONE), variants)

    def laid_out(self, limits: Limits) -> Iterator[LaidOut[T]]:
        """Yield a row for what all jobs need, and one for what a branch needs where not all do."""
        for name, (what, uses) in self.uses.items():
            for variants, branches in limits.in_two(uses):
                yield LaidOut(what, limits.condition(variants), limits.numbers_of(branches, variants), name)
