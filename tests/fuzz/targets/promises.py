"""What every target holds an answer against."""

from __future__ import annotations

from collections.abc import Iterable

from putback.source.finding import Finding
from putback.source.span import Span
from tests.fuzz.judging import Failure, exists, faults_of, lines_of, style_fault


class BrokenError(AssertionError):
    """An answer that breaks a promise; the message says which."""

    def __init__(self, failure: Failure) -> None:
        super().__init__(f"{failure.kind}: {failure.detail[:500]}")
        self.failure = failure
        """What was wrong."""


def hold(kept: bool, kind: str, detail: object = "") -> None:
    """Raise `BrokenError` when a promise is not kept."""
    if not kept:
        raise BrokenError(Failure(kind, str(detail)))


def hold_findings(findings: Iterable[Finding], path: str, content: str | bytes) -> str:
    """Hold findings about one file against the promises; return them as a text."""
    told = list(findings)
    for failure in faults_of(told, {path: content}):
        raise BrokenError(failure)
    return "\n".join(f"{one.span} {one.check} {one.message} {one.hint}" for one in told)


def hold_words(what: str, message: str, source: str) -> None:
    """Hold a message about a text against the style of the house."""
    # Between double quotes, a backslash is written twice.
    wrong = style_fault(message, " ".join(source.replace("\\", "").split()))
    hold(wrong is None, f"{what}: {wrong}", message)


def hold_place(what: str, span: Span, content: str | bytes) -> None:
    """Hold a place against the text that it must lie in."""
    hold(exists(span, lines_of(content)), f"{what}: a place that is not there", span)


def as_text(data: bytes) -> str:
    """Return bytes as the text of a file; what is no text is left out."""
    return data.decode("utf-8", "ignore").replace("\r\n", "\n").replace("\r", "\n")
