"""A job that is wholly for some variants says so once, and not at each row."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any, Protocol, TypeVar, cast

from putback.model.terms import When
from putback.sheet.job import JobSheet


class _Limited(Protocol):
    @property
    def when(self) -> When | None: ...


_T = TypeVar("_T", bound=_Limited)


def scoped(sheet: JobSheet, said: Callable[[When | None], str | None]) -> JobSheet:
    """Return a sheet that says in `only` for which variants all of its sections are, when these are the same.

    Its rows and sections for just these then have no condition. `said` tells conditions apart: it says them in words,
    and has none for all.
    """
    limits = {said(part.when) for part in sheet.sections}
    limit = limits.pop() if len(limits) == 1 else None
    if not limit:
        return sheet

    def plain(rows: tuple[_T, ...]) -> tuple[_T, ...]:
        return tuple(replace(cast(Any, row), when=None) if said(row.when) == limit else row for row in rows)

    set_up = sheet.set_up
    return replace(
        sheet,
        sections=plain(sheet.sections),
        set_up=replace(set_up, **{each.name: plain(getattr(set_up, each.name)) for each in fields(set_up)}),
        count_back=plain(sheet.count_back),
        settings=plain(sheet.settings),
        follow_ups=plain(sheet.follow_ups),
        only=sheet.sections[0].when,
    )
