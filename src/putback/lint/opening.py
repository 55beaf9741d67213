"""Guides that are read to be printed; they are checked again only where no kept result is theirs."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from putback.lint.cache import Cache, GuideRequest, seal
from putback.lint.result import GuideResult, Result
from putback.lint.run import Asked, open_guides, result_of
from putback.source.intake import Disk
from putback.source.witness import Recall, Witness

if TYPE_CHECKING:
    from putback.guide.record import Guide
    from putback.ledger.opened import Opened
    from putback.variants import Choice


def open_witnessed(paths: Sequence[Path], only: Choice = ()) -> list[Asked]:
    """Read guides as `lint.run.open_guides` does, each through a witness, which stays its store."""
    return open_guides(paths, only, store=lambda: Witness(Disk()))


def result_for(
    guide: Guide,
    only: Choice,
    opened: Callable[[], Opened],
    cache: Cache,
    catalogues: Collection[str] | None = None,
) -> Result:
    """Return what the checks find in a guide that has been read, for the variants of `only`.

    A result that is kept is taken when it is of this very guide: what was read of the files is compared as it was
    read, and not as the files are now; else `opened` is asked for. `catalogues` are those of its translations that are
    looked at; None for all.
    """
    witness = guide.store if isinstance(guide.store, Witness) else None
    if witness is None or not cache.is_on:
        return result_of(opened())
    asked = GuideRequest(guide.root, only, None, catalogues)
    cache.recall = Recall(Disk())
    cache.recall.known.update(witness.answers)
    kept = cache.find(asked) if witness.steady else None
    if kept is not None:
        return kept.result
    result = result_of(opened())
    options = tuple(guide.machine.options if guide.machine else ())
    cache.keep(asked, seal(witness, GuideResult(tuple(sorted(guide.unread)), options, result=result)))
    cache.close()
    return result
