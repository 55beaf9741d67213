"""What guide.yaml says: the cover, and what is waived everywhere."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.reading import Reader
from putback.model.revisions import Revision, read_revisions
from putback.model.terms import Waiver
from putback.source.finding import Finding
from putback.source.tree import Mapping


@dataclass(frozen=True, slots=True)
class Cover:
    """What guide.yaml says."""

    title: str
    """The title of the book."""
    subtitle: str | None = None
    """The line under it."""
    edition: str | None = None
    """A number, or words."""
    date: str | None = None
    """As 2026-11-25."""
    authors: tuple[str, ...] = ()
    """Who wrote it."""
    licence: str | None = None
    """Under which others may use it."""
    units: tuple[str, ...] = ("metric", "us")
    """The system printed first, and the one printed second if any."""
    language: str = "en"
    """Its tag: en, pt-BR."""
    read_first: str | None = None
    """A statement for the cover."""
    web: str | None = None
    """Where its pages are published, without a slash at the end."""
    waive: tuple[Waiver, ...] = ()
    """Findings that the author waives in all of the guide."""
    revisions: tuple[Revision, ...] = ()
    """What changed from edition to edition, the newest first."""


def build_cover(root: Mapping) -> tuple[Cover, list[Finding]]:
    """Return the cover that a file of a good shape describes, and the faults of its values."""
    reader = Reader()
    revisions = tuple(read_revisions(reader, root.get("revisions")))
    newest = revisions[0] if revisions else None
    cover = Cover(
        title=reader.text(root.get("title")) or "",
        subtitle=reader.text(root.get("subtitle")),
        edition=reader.text(root.get("edition")) or (newest.edition if newest else None),
        date=reader.text(root.get("date")) or (newest.date if newest else None),
        authors=reader.texts(root.get("authors")),
        licence=reader.text(root.get("licence")),
        units=reader.names(root.get("units")) or ("metric", "us"),
        language=reader.text(root.get("language")) or "en",
        read_first=reader.text(root.get("read-first")),
        web=(reader.text(root.get("web")) or "").rstrip("/") or None,
        waive=reader.waive(root.get("waive")),
        revisions=revisions,
    )
    return cover, reader.faults
