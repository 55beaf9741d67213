"""Checking all guides that some paths lead to: each by itself, and the results put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from putback.guide.paths import shown_path
from putback.lint.options import NoVariantError, must_be_known
from putback.lint.parts import CheckPart, Share, split
from putback.lint.result import Result
from putback.lint.search import find_guides
from putback.lint.together import together
from putback.source.finding import Finding

if TYPE_CHECKING:
    from putback.variants import Choice


def lint(paths: Sequence[Path], only: Choice = (), part: CheckPart | None = None) -> Result:
    """Check every guide that the paths lead to, for the variants that agree with `only`; or a part of the guides.

    Raises `NoGuideError`, and `NoVariantError` for a choice that makes no sense.
    """
    from putback.lint.run import lint_guide  # the checks, which take a while to load

    unread: list[Finding] = []
    found = find_guides(paths, unread)
    several, parts = len(found) > 1, split(found, part.of) if part else {}
    if part:
        found = {folder: wanted for folder, wanted in found.items() if parts[folder] == part.number}
    guides = [lint_guide(folder, only, wanted) for folder, wanted in found.items()]
    must_be_known(only, {option for guide in guides for option in guide.options})
    refused = next((guide.refused for guide in guides if guide.refused is not None), None)
    if refused is not None:
        raise NoVariantError(refused)
    told = {path for guide in guides for path in guide.unread}
    unread_here = [fault for fault in unread if fault.span.path not in told]
    result = together([guide.result for guide in guides], unread_here, unreadable=bool(unread), several=several)
    if part is None:
        return result
    shown = {shown_path(folder): number for folder, number in parts.items()}
    return replace(result, share=Share(part, shown, tuple(unread_here)))
