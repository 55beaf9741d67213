"""A text of an author that can be translated, and what a translator should know of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from putback.model.terms import Signal
from putback.source.span import Span

WORDS = "words"
"""The context of names that are printed as words: options, choices, positions, and what stands for no thing."""
PAGES = "pages"
"""With this begins the context of what stands on a page of prose: `pages.safety`."""


class TextKey(NamedTuple):
    """What a text is known by: where it belongs, and how it reads."""

    context: str
    """Where it belongs, as names: `machine.impeller.name`. It does not change when lines are moved."""
    text: str
    """How it reads."""


@dataclass(frozen=True, slots=True)
class GuideText:
    """A text of an author that is printed."""

    context: str
    """Where it belongs, as names; several texts can belong to one place, as the ways to avoid a danger do."""
    text: str
    """How it reads, on one line."""
    spans: tuple[Span, ...]
    """Where it stands."""
    note: str
    """What a translator should know of it."""
    signal: Signal | None = None
    """Of a part of a safety message: its signal word."""

    @property
    def told(self) -> TextKey:
        """What it is known by."""
        return TextKey(self.context, self.text)

    @property
    def is_safety(self) -> bool:
        """Whether it is part of a safety message, which must not be left untranslated."""
        return self.signal is not None

    @property
    def is_page(self) -> bool:
        """Whether it stands on a page of prose, and may have marks of Markdown."""
        return self.context.startswith(f"{PAGES}.")


NOTES = {
    "title": "a heading",
    "subtitle": "the line under the title",
    "edition": "which edition it is",
    "licence": "the licence",
    "authors": "who wrote the guide; a person's name stays as it is",
    "condition-text": "the state of a thread, as the author says it; it stands in brackets",
    "read-first": "the statement on the cover",
    "changes": "what changed in an edition",
    "machine.name": "the name of the machine",
    "machine.kind": "what the machine is, in a few words",
    "name": "the name of a thing, singular; it stands after a colon, in lists and as a heading",
    "plural": "the name of several of this thing; it stands after their number",
    "note": "a remark after a sentence",
    "text": "the sentence of a step",
    "because": "why a step is done",
    "words": "what is said, or done instead",
    "alt": "what a picture shows, for those who cannot see it",
    "caption": "the line under a picture",
    "callouts.text": "what is pointed at in a picture",
    "section": "the heading of some steps",
    "at": "where something is, or at what something runs",
    "against": "against what something is marked",
    "measured": "where something is measured",
    "measure": "what is measured",
    "grade": "what a fluid is",
    "uses": "which use of a thing it is",
    "reuse": "why something may be used again",
    "torque-confirmed": "what confirms a torque that is unusual",
    "order": "in which order pieces are tightened",
    "purpose": "what a job is good for",
    "skill": "who can do a job",
    "also": "when a job is due besides; it stands in a list",
    "after": "after what something is due",
    "phrases": "what brings a control to a position: an order",
    "told-by": "how to tell which choice of an option a machine has",
    "limit": "how it must be; it stands after a colon",
    "check-when-back": "how it must be; it stands after a colon",
    "check-before-run": "how it must be; it stands after a colon",
    "check-in-run": "how it must be; it stands after a colon",
    "inspect-when-off": "what to look for; it stands in a list",
    "for": "what to look for; it stands in a list",
    "until": "until when something is done",
    "by-hand": "how far something is tightened by hand",
    "no-torque": "why something has no torque",
    "sign": "what somebody notices, as a sentence",
    "cause": "what may be wrong",
    "check": "what to look at",
    "mend": "what to do",
    "hazard": "safety message: what the danger is; leave nothing out",
    "consequence": "safety message: what it can do; leave nothing out",
    "avoid": "safety message: how to avoid it; leave nothing out",
    "ppe": "protective equipment to wear; it stands in a list",
    "not-worn": "what nobody wears, since it is drawn in; it stands in a list",
    "waste": "what to do with what comes out",
    "readings": "what stands before the line for a reading",
    "parts": "what the parts cost",
    "workshop": "what a workshop asks for the work",
}  # fmt: skip
"""What a translator should know of a text, by the last name of its context, or the last two."""
