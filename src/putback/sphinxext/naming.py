"""The names of the files of a manual, and of how it is printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from putback.typstpdf.file_name import file_name
from putback.variants import Choice

if TYPE_CHECKING:
    from pathlib import Path

    from putback.guide.record import Guide

HTML = "html"
"""The folder of the HTML."""


def pdf_name(folder: str, options: Choice, paper: str, job: str = "") -> str:
    """Return the name of the PDF without its ending: `hollin-20-a4`, `hollin-20-shaft-long-a4`.

    That of one job has its name as well: `hollin-20-water-pump-shaft-long-a4`. The guide's folder is in it as it is
    written, but for what `file_name` changes.
    """
    chosen = [f"{option}-{value}" for option, value in options]
    return file_name("-".join([folder or "manual", *([job] if job else []), *chosen, paper]))


def folder_name(guide: Guide) -> str:
    """Return what the manual of a guide is called: as its folder, and in another language than its own that as well."""
    told = guide.cover.language if guide.source and guide.cover else ""
    return f"{guide.root.name or 'guide'}-{told}" if told else guide.root.name


SIDED, LARGE = "sided", "large-print"
"""What the name of a paper says besides its size: printed on both sides, in large print."""


def paper_name(size: str, *, sided: bool = False, large: bool = False) -> str:
    """Return the name of a paper and of how it is printed: `a4`, `letter-sided`, `a4-sided-large-print`."""
    return "-".join([size, *([SIDED] if sided else []), *([LARGE] if large else [])])


def paper_settings(paper: str) -> dict[str, str | bool]:
    """Return the settings of the PDF that such a name stands for."""
    rest = paper.removesuffix(f"-{LARGE}")
    size = rest.removesuffix(f"-{SIDED}")
    return {"putback_paper": size, "putback_sided": size != rest, "putback_large_print": rest != paper}


def to_open(out: Path, name: str) -> Path:
    """Return the file to open of what a manual's folder has under a name."""
    return out / name / "index.html" if name == HTML else out / name
