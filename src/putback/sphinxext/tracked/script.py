"""The data of a job's page as a classic script beside it: pages in a folder can load nothing else."""

from __future__ import annotations

import posixpath
from pathlib import Path
from typing import TYPE_CHECKING

from putback.model.job import Block, Job
from putback.sheet import sheet_of
from putback.sheet.scoped import scoped
from putback.sphinxext.bench.alone import is_alone
from putback.sphinxext.escaped import as_script
from putback.sphinxext.sources import opened_for
from putback.sphinxext.tracked.data import data_of
from putback.words import catalogue

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sphinx.application import Sphinx

NAME = "PUTBACK_JOB"
"""What the script puts the data into, in the window of the page."""

LARGEST = 200_000
"""Bytes of data, above which a page stays a page to read."""


def script_of(app: Sphinx, pagename: str) -> str | None:
    """Write the data of a job beside its page, and return the name of that file; None for a page without data."""
    path = Path(app.env.doc2path(pagename))
    if app.builder.name != "html" or is_alone(app.config) or path.parent.name not in ("jobs", "blocks"):
        return None
    opened = opened_for(app.env, pagename)
    if opened is None:
        return None
    own: Mapping[str, Job | Block] = opened.guide.blocks if path.parent.name == "blocks" else opened.guide.jobs
    job = own.get(path.stem)
    sheet = sheet_of(job, opened) if job is not None else None
    if job is None or sheet is None:
        return None
    words = catalogue(opened)
    data = data_of(job, scoped(sheet, words.only_when), opened, words)
    # From the page back to the folder of its guide: what is kept of all pages of a guide is kept together.
    text = as_script(NAME, data | {"root": "../"}) if data is not None else ""
    if not text or len(text.encode()) > LARGEST:
        return None
    file = Path(app.outdir) / f"{pagename}.job.js"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8", newline="\n")
    return f"{posixpath.basename(pagename)}.job.js"
