"""One action on one thing: what is posted to the accounts."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.job import Outcome, Step
from putback.model.terms import Ref
from putback.model.verbs.blocks import DO
from putback.model.verbs.cleaning import Apply
from putback.source.finding import Also
from putback.source.span import Span
from putback.variants import NONE, VariantSet


@dataclass(frozen=True, slots=True)
class Entry:
    """One action on one thing, in some variants."""

    index: int
    """Its number in the book, from 0."""
    step: Step
    """The step that it comes from."""
    target: Ref | None
    """The one thing that the verb's value names here."""
    variants: VariantSet
    """The variants, and ways inspections went, in which it happens."""
    reached: VariantSet
    """The variants, and ways inspections went, that got as far as this."""
    again: bool
    """Whether it happens on a way that went back to an earlier step."""
    section: int
    """The number of the section; cautions hold until its end."""
    via: tuple[Step, ...] = ()
    """The `do` and `reverse` steps through which it got here, outermost first."""
    order: int = -1
    """The number of its step in the book's program."""
    gone: VariantSet = NONE
    """The ways that an inspection had led away before it: to a `stop`, or back to an earlier step."""

    @property
    def touched(self) -> tuple[Ref, ...]:
        """The things that the action works on: for `apply`, those that the consumable goes on."""
        if isinstance(self.step.action, Apply):
            return self.step.action.to
        return (self.target,) if self.target else ()

    @property
    def span(self) -> Span:
        """Where to point when something is wrong with it: at the name of its thing, or at the verb."""
        return self.target.span if self.target else self.step.key

    @property
    def ways(self) -> tuple[Also, ...]:
        """The places of the `do` and `reverse` steps, as places that explain a finding."""
        return tuple(Also(step.key, f"{'done' if step.verb is DO else 'reversed'} from here") for step in self.via)


def question(step: Step, outcome: Outcome | None = None) -> str:
    """Return what an `otherwise` or an outcome asks, as a name in a variant: `cam out of limit`, `cam > 0.3 mm`."""
    asked = f"{', '.join(ref.name for ref in step.things)}"
    return f"{asked} {outcome.found.text if outcome else 'out of limit'}"
