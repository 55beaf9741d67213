"""References in a text: `{step drain-oil}`, `{job water-pump}`, `{limit valve-clearance}`, `{figure impeller.svg}`.

A step or a figure of another job has that job after it: `{step drain-oil of gear-oil}`. On a page of prose they are
roles, whose content is the same: {putback:step}`drain-oil of gear-oil`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from putback.source.late import Late
from putback.source.nearest import nearest

KINDS = ("step", "job", "limit", "figure")
"""What a text can refer to."""
_FORM = Late(r"\{\s*([A-Za-z]{2,9})[\s:]\s*([^{}\s]{1,80})(?:\s+of\s+([^{}\s]{1,80}))?\s*\}")
_BEGUN = Late(r"\{\s*(?:step|job|limit|figure)\b(?![\w-])[^{}\n]{0,200}\}?")
_ROLE = Late(r"\{putback:(step|job|limit|figure)\}`([^`\n]{1,200})`")
_TARGET = Late(r"(?:[^`<]*<)?\s*([^\s<>`]+)(?:\s+of\s+([^\s<>`]+))?\s*>?")
_CODE = Late(r"^(?P<fence>`{3,}|~{3,})(?!\{).*?^(?P=fence)", re.MULTILINE | re.DOTALL)
_NUMBER = Late(
    r"(?:(?:(?<![\w-])(?:see|as in|repeat|redo|undo|back to|go to|return to|skip to|on to|from|after|before|until)"
    r"(?: the)?|^|[.!?])\s*(?P<step>\b(?:steps?|jobs?)\s+[0-9]{1,3}[a-z]?)"
    r"|(?<![\w-])(?P<other>(?:figures?|fig\.)\s?[0-9]{1,3}[a-z]?))"
    r"(?![\w.-]*[0-9]|\s*(?:of|in)\s+(?:the|its|this|that|your|an?)\b|\s+from\s+the\b)",
    re.IGNORECASE,
)
"""A step, a job or a figure by its number, as one refers to it; what stands in another book is no reference."""


class Reference(NamedTuple):
    """One reference in a text, with the offsets of its parts."""

    kind: str
    """`step`, `job`, `limit` or `figure`."""
    name: str
    """The name of what is meant."""
    of: str | None
    """The job that it stands in, when that is said."""
    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last."""
    at: tuple[int, int]
    """Where the name stands."""
    of_at: tuple[int, int]
    """Where the job stands; the same when none is said."""
    is_kind: bool = True
    """Whether the kind is written as it must be; else it is the one that was meant."""


def references(text: str) -> Iterator[Reference]:
    """Yield the references in a text of a YAML file; other words in braces are none."""
    if "{" not in text:
        return
    for found in _FORM.finditer(text):
        word = found[1]
        kind = word if word in KINDS and found[0].startswith(f"{{{word} ") else nearest(word.lower(), KINDS)
        if kind is not None:
            at = found.span(2)
            of_at = found.span(3) if found[3] else at
            right = word == kind and text[found.end(1)] == " "
            yield Reference(kind, found[2], found[3], *found.span(), at, of_at, right)


def broken_references(text: str) -> Iterator[tuple[str, int, int]]:
    """Yield what begins as a reference of a YAML file and is none: its kind, and the offsets."""
    if "{" not in text:
        return
    for found in _BEGUN.finditer(text):
        whole = _FORM.match(text, found.start())
        kind = next(kind for kind in KINDS if kind in found[0])
        if whole is None or (whole[3] and kind in ("job", "limit")):
            yield kind, found.start(), found.start() + len(found[0].rstrip())


def roles(page: str) -> Iterator[Reference]:
    """Yield the references on a page of Markdown, by offsets in it; code has none."""
    if "{putback:" not in page:
        return
    code = [found.span() for found in _CODE.finditer(page)]
    for found in _ROLE.finditer(page):
        inside = _TARGET.fullmatch(found[2])
        if inside is not None and not any(start <= found.start() < end for start, end in code):
            first = found.start(2)
            at = (first + inside.start(1), first + inside.end(1))
            of_at = (first + inside.start(2), first + inside.end(2)) if inside[2] else at
            yield Reference(found[1], inside[1], inside[2], *found.span(), at, of_at)


def role_target(content: str) -> tuple[str, str | None] | None:
    """Return the name in the content of a role, and the job that it stands in; None for no name."""
    found = _TARGET.fullmatch(content)
    return (found[1], found[2]) if found else None


def bare_numbers(text: str) -> Iterator[tuple[int, int]]:
    """Yield where a text speaks of a step, a job or a figure by its number."""
    lower = text.lower()
    if "step" not in lower and "job" not in lower and "fig" not in lower:
        return
    for found in _NUMBER.finditer(text):
        yield found.span("step") if found["step"] else found.span("other")
