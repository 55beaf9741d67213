"""Texts with numbers, and what each is about: the step that says it, or the thing of the machine file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.model.job import Sequence, Step
from putback.model.said import Said
from putback.model.thing import Thing
from putback.prose.markdown import read_page
from putback.prose.pages import Passage, alternatives, passage_of, plain
from putback.source.late import Late


class Context(NamedTuple):
    """A text of an author in which a number stands."""

    text: str
    """What it says."""
    said: Said | Passage
    """The same with its place."""
    field: str
    """The field that it stands in; `page` on a page of prose."""
    within: Sequence | None = None
    """The job or block that it stands in."""

    @property
    def passage(self) -> Passage:
        """The text with the place of every word."""
        return self.said if isinstance(self.said, Passage) else passage_of(self.said)

    @property
    def step(self) -> Step | None:
        """The step whose text or note it is."""
        steps = self.within.steps() if self.within and self.field in ("text", "note") else ()
        return next((step for step in steps if step.text is self.said or step.note is self.said), None)


class Contradiction(NamedTuple):
    """A number of a text that the machine file, or a job, contradicts."""

    context: Context
    """The text."""
    start: int
    """Offset of the first character of the number."""
    end: int
    """Offset after its last."""
    message: str
    """What it says, and what the other place says."""
    hint: str | None = None
    """What would be right."""
    other: Thing | None = None
    """The thing of the machine file that says otherwise."""


NUMBERS = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
    "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
)  # fmt: skip
"""Numbers in words, from one."""

_DIGIT = Late("[0-9½¼¾]")
_WORDS = frozenset((*NUMBERS, "both", "half", "hour", "hour.", "minute", "minute."))
_VALUES = frozenset({"limit", "found", "torque", "quantity", "number", "reason", "thread", "size", "drive", "stages"})
"""Fields whose values are no sentences."""


def has_number(text: str) -> bool:
    """Tell quickly whether a number may stand in a text, in digits or in words."""
    return _DIGIT.search(text) is not None or not _WORDS.isdisjoint(text.lower().split())


def in_files(texts: Iterable[tuple[str, Said, Sequence | None]]) -> Iterator[Context]:
    """Yield the texts of a guide's files in which a number stands, given with their fields, and what is around them."""
    for field, said, within in texts:
        if field not in _VALUES and has_number(said):
            yield Context(said, said, field, within)


def roughly(page: str) -> Iterator[Context]:
    """Yield the paragraphs and lines of a page in which a number stands, without their places: that is fast."""
    for part in page.split("\n\n"):
        for text in part.split("\n") if "|" in part or "\n-" in part else (part,):
            if has_number(text):
                words = plain(" ".join(text.split()))
                yield Context(words, Passage("", words, ()), "alt" if ":alt: " in text else "page")


def on_page(path: str, page: str) -> Iterator[Context]:
    """Yield the passages of a page in which a number stands."""
    for passage in alternatives(path, page):
        if has_number(passage.text):
            yield Context(passage.text, passage, "alt")
    prose = read_page(path, page)
    for passage in (*prose.passages, *(cell for row in prose.rows for cell in row.cells)):
        if has_number(passage.text):
            yield Context(passage.text, passage, "page")
