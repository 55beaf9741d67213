"""The order of jobs in lists: that of the book's contents."""

from __future__ import annotations

from collections.abc import Iterator

from putback.guide.record import Guide
from putback.model.job import Job
from putback.source.late import Late

_FENCE = Late(r"[ \t]*(?P<fence>`{3,}|:{3,}|~{3,})[ \t]*\{toctree\}")
_ENTRY = Late(r"(?:.*<)?/?(?:\./)?jobs/(?P<job>[a-z0-9-]+)(?:\.yaml)?>?")


def jobs_in_order(guide: Guide) -> list[Job]:
    """Return the jobs as the contents of the first page name them, then as those of other pages do, then the others."""
    pages = sorted(guide.pages, key=lambda path: not path.endswith("/index.md"))
    named = [key for path in pages for key in _listed(guide.pages[path])]
    return [guide.jobs[key] for key in dict.fromkeys((*named, *guide.jobs)) if key in guide.jobs]


def _listed(text: str) -> Iterator[str]:
    """Yield the jobs that the contents (`toctree`) of a page name."""
    fence = None
    for line in text.splitlines():
        if fence is None:
            opening = _FENCE.match(line)
            fence = opening["fence"] if opening else None
        elif line.strip().startswith(fence):
            fence = None
        elif entry := _ENTRY.fullmatch(line.strip()):
            yield entry["job"]
