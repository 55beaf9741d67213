"""Options of machines that were chosen, and whether any machine has them."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from putback.source.grammar import listed
from putback.source.nearest import nearest

if TYPE_CHECKING:
    from putback.variants import Choice


class NoVariantError(Exception):
    """A choice of options that no guide has, or that was never built; the message says why."""


def must_be_known(only: Choice, options: Collection[str]) -> None:
    """Raise `NoVariantError` for a choice of an option that is not among those of the guides."""
    known = sorted(options)
    for option, _ in only:
        if option not in options:
            near = nearest(option, known)
            hint = (
                f"; did you mean '{near}'?" if near else f"; there are {listed(known)}" if known else "; there are none"
            )
            raise NoVariantError(f"no guide here has an option '{option}'{hint}")
