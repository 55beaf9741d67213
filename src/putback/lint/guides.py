"""Checking all guides that some paths lead to: each by itself, and the results put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from putback.guide.paths import shown_path
from putback.lint.cache import Cache, GuideRequest
from putback.lint.options import NoVariantError, must_be_known
from putback.lint.parts import CheckPart, Share, split
from putback.lint.result import GuideResult, Result
from putback.lint.search import Pick, Picked, find_guides
from putback.lint.together import together
from putback.source.finding import Finding

if TYPE_CHECKING:
    from putback.variants import Choice


def lint(
    paths: Sequence[Path],
    only: Choice = (),
    part: CheckPart | None = None,
    pick: Pick | None = None,
    *,
    processes: int | None = 1,
    cache: Cache | None = None,
) -> Result:
    """Check every guide that the paths lead to and `pick` leaves, or a part of them, for the variants of `only`.

    By one process, or by several: None for as many as are worth it. With a `cache`, what was checked before is not
    checked again as long as nothing has changed.

    Raises what `pick` raises, `NoGuideError`, `NoVariantError` for a choice that makes no sense, and `LostHelperError`.
    """
    unread: list[Finding] = []
    found = find_guides(paths, unread)
    picked = pick(found) if pick else Picked(found)
    several, parts = len(found) > 1, split(picked.guides, part.of) if part else {}
    asked = {folder: files for folder, files in picked.guides.items() if not part or parts[folder] == part.number}
    guides = _checked([GuideRequest(folder, only, files) for folder, files in asked.items()], processes, cache)
    if not picked.left_out:  # else a guide that is left out may have the option
        must_be_known(only, {option for guide in guides for option in guide.options})
    refused = next((guide.refused for guide in guides if guide.refused is not None), None)
    if refused is not None:
        raise NoVariantError(refused)
    told = {path for guide in guides for path in guide.unread}
    unread_here = [fault for fault in unread if fault.span.path not in told]
    result = together([guide.result for guide in guides], unread_here, unreadable=bool(unread), several=several)
    result = replace(result, left_out=(*result.left_out, *picked.left_out))
    if part is None:
        return result
    shown = {shown_path(folder): number for folder, number in parts.items()}
    return replace(result, share=Share(part, shown, tuple(unread_here)))


def _checked(asked: Sequence[GuideRequest], processes: int | None, cache: Cache | None) -> list[GuideResult]:
    """Return the result of each guide."""
    cache = cache or Cache(None)
    results = {number: result for number, one in enumerate(asked) if (result := cache.find(one)) is not None}
    rest = [number for number in range(len(asked)) if number not in results]
    if rest:
        from putback.lint.processes import check_all, worth

        to_do = [asked[number] for number in rest]
        many = worth(to_do) if processes is None else processes
        try:
            for number, result, sealed in check_all(to_do, many, witnessed=cache.is_on):
                results[rest[number]] = result
                cache.keep(to_do[number], sealed)
        finally:
            cache.close()
    return [results[number] for number in range(len(asked))]
