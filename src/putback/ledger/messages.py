"""The safety messages of a guide: its own, and those of the shared library that it shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from putback.guide.record import Guide
from putback.model.job import Sequence
from putback.model.library import SafetyMessage
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.telling import Caution
from putback.source.finding import Also
from putback.source.span import Span


@dataclass(frozen=True, slots=True)
class UsedMessage:
    """A safety message, and where an author of this guide can do something about it."""

    message: SafetyMessage
    """The message."""
    own: bool
    """Whether it stands in a file of the guide."""
    steps: tuple[Span, ...]
    """The places in jobs and blocks that show it."""

    def places(self, within: Span | None) -> tuple[Span, ...]:
        """Return where to point for a fault of it: its place in the guide's own file, or the first step that shows it.

        The shared library belongs to all guides. What is wrong in it is told in this one where it is printed first.
        """
        return (within or self.message.span,) if self.own else self.steps[:1]

    @property
    def elsewhere(self) -> tuple[Also, ...]:
        """Where else a shared message is shown: what is wrong with it is wrong there too."""
        return () if self.own else tuple(Also(span, "it is shown here as well") for span in self.steps[1:])


def shown_cautions(guide: Guide) -> Iterator[UsedMessage]:
    """Yield the guide's own safety messages, shown or not, and the shared ones that some step shows."""
    steps: dict[str, list[Span]] = {}
    for sequence in _printed(guide):
        for step in sequence.steps():
            if isinstance(step.action, Caution):
                for ref in step.things:
                    steps.setdefault(ref.name, []).append(ref.span)
    own_file = f"{guide.shown}/cautions.yaml" if guide.shown else "cautions.yaml"
    for key, message in guide.library.cautions.items():
        own = message.span.path == own_file
        if own or key in steps:
            yield UsedMessage(message, own, tuple(steps.get(key, ())))


def _printed(guide: Guide) -> Iterator[Sequence]:
    """Yield the guide's jobs and blocks, and the shared blocks that they do."""
    waiting, seen = list(guide.sequences()), set(guide.blocks)
    while waiting:
        sequence = waiting.pop(0)
        yield sequence
        for step in sequence.steps():
            for ref in step.things if isinstance(step.action, Do | Reverse) else ():
                if ref.name in guide.library.blocks and ref.name not in seen:
                    seen.add(ref.name)
                    waiting.append(guide.library.blocks[ref.name])


def all_answering(wanted: set[str], answers: Mapping[str, set[str]]) -> list[str]:
    """Return a few cautions that answer all of some hazards together; none where some hazard has no answer."""
    chosen: list[str] = []
    while left := wanted.difference(*(answers[name] for name in chosen)):
        most, best = max((len(covered & left), name) for name, covered in answers.items())
        if not most:
            return []
        chosen.append(best)
    return chosen
