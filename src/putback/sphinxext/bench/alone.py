"""How Sphinx makes the sheet of one job: from its page alone, in a form of its own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from putback.ledger.opened import Opened
from putback.sphinxext.naming import folder_name, pdf_name

ONE_JOB = "putback_one_job"
"""The setting that says so."""


def of_one_job(opened: Opened, job: str, paper: str) -> dict[str, Any]:
    """Return what is set otherwise than for the whole book."""
    page = f"jobs/{job}"
    pattern = re.sub(r"[*?\[\]]", "?", page)
    return {
        ONE_JOB: True,
        "root_doc": page,
        # Signs in the name of a file that mean something in a pattern stand for any: one page more does no harm.
        "include_patterns": [f"{pattern}.yaml"],
        "putback_form": "sheet",
        "putback_pdf_name": pdf_name(folder_name(opened.guide), opened.only, paper, job),
    }


def is_alone(settings: Mapping[str, Any] | Any) -> bool:
    """Tell whether the settings of a project are those of one job's sheet."""
    return bool(getattr(settings, ONE_JOB, False))
