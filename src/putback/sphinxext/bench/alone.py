"""How Sphinx makes the sheet of one job: from its page alone, in a form of its own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from putback.ledger.opened import Opened
from putback.sphinxext.naming import pdf_name

ONE_JOB = "putback_one_job"
"""The setting that says so."""


def of_one_job(opened: Opened, job: str, paper: str) -> dict[str, Any]:
    """Return what is set otherwise than for the whole book."""
    page = f"jobs/{job}"
    pattern = re.sub(r"([*?[])", r"[\1]", page)
    return {
        ONE_JOB: True,
        "root_doc": page,
        # The name of a file may have signs in it that mean something in a pattern.
        "include_patterns": [f"{pattern}.yaml"],
        "putback_form": "sheet",
        "putback_pdf_name": pdf_name(opened.guide.root.name, opened.only, paper, job),
    }


def is_alone(settings: Mapping[str, Any] | Any) -> bool:
    """Tell whether the settings of a project are those of one job's sheet."""
    return bool(getattr(settings, ONE_JOB, False))
