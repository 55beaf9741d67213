"""Checking all guides that some paths lead to."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from putback.lint.joining import joined
from putback.lint.result import Result
from putback.lint.search import find_guides
from putback.source.finding import Finding

if TYPE_CHECKING:
    from putback.variants import Choice


def lint(paths: Sequence[Path], only: Choice = ()) -> Result:
    """Check every guide that the paths lead to, for the variants that agree with `only`.

    Raises `NoGuideError`, and `NoVariantError` for a choice that makes no sense.
    """
    from putback.lint.run import lint_guide  # the checks, which take a while to load

    unread: list[Finding] = []
    found = find_guides(paths, unread)
    return joined([lint_guide(folder, only, wanted) for folder, wanted in found.items()], only, unread)
