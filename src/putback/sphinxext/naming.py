"""The names of the files of a manual."""

from __future__ import annotations

from putback.typstpdf.file_name import file_name
from putback.variants import Choice

HTML = "html"
"""The folder of the HTML."""


def pdf_name(folder: str, options: Choice, paper: str, job: str = "") -> str:
    """Return the name of the PDF without its ending: `hollin-20-a4`, `hollin-20-shaft-long-a4`.

    That of one job has its name as well: `hollin-20-water-pump-shaft-long-a4`. The guide's folder is in it as it is
    written, but for what `file_name` changes.
    """
    chosen = [f"{option}-{value}" for option, value in options]
    return file_name("-".join([folder or "manual", *([job] if job else []), *chosen, paper]))
