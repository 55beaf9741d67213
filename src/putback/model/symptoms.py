"""The symptom table: signs that something is wrong, with what may cause each, what to look at, and what mends it."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.reading import Reader
from putback.model.said import Said
from putback.model.terms import Ref, When
from putback.source.finding import Finding
from putback.source.span import Span
from putback.source.tree import Listing, Mapping


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What may be after a sign."""

    cause: Said
    """What is wrong."""
    check: Said
    """What to look at, to know that it is this."""
    job: Ref | None = None
    """The job that mends it."""
    mend: Said | None = None
    """What to do where no job does it, or besides."""
    when: When | None = None
    """The variants that have it."""
    span: Span
    """The place of its first key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom:
    """What somebody sees, hears, smells or feels, and what it may come from."""

    key: str
    """Its name."""
    sign: Said
    """What is noticed, as a sentence."""
    causes: tuple[Cause, ...]
    """What it may come from, the likeliest first."""
    when: When | None = None
    """The variants that can show it."""
    span: Span
    """The place of its name."""


def build_symptoms(root: Mapping) -> tuple[dict[str, Symptom], list[Finding]]:
    """Return the symptoms in a file of a good shape, and the faults of their values."""
    reader = Reader()
    found = {}
    for name, (key, value) in root.entries.items():
        sign = reader.text(value.get("sign")) if isinstance(value, Mapping) else None
        if isinstance(value, Mapping) and sign is not None:
            causes = value.get("causes")
            items = causes.items if isinstance(causes, Listing) else []
            read = [_cause(reader, item) for item in items if isinstance(item, Mapping)]
            found[name] = Symptom(
                key=name,
                sign=sign,
                causes=tuple(cause for cause in read if cause),
                when=reader.when(value.get("when")),
                span=key.span,
            )
    return found, reader.faults


def _cause(reader: Reader, node: Mapping) -> Cause | None:
    cause, check = reader.text(node.get("cause")), reader.text(node.get("check"))
    if cause is None or check is None:
        return None
    return Cause(
        cause=cause,
        check=check,
        job=reader.ref(node.get("job")),
        mend=reader.text(node.get("mend")),
        when=reader.when(node.get("when")),
        span=node.entries["cause"].key.span,
    )
