"""Where the pieces of a joint sit, and in what order they are tightened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from putback.model.terms import Ref
from putback.model.thing import Thing

if TYPE_CHECKING:
    from putback.joints.patterns import Layout, Rule


@dataclass(frozen=True, slots=True, kw_only=True)
class InJoint(Thing):
    """What sits in a joint, mostly with others like it."""

    places: Layout | None = None
    """Where the pieces sit."""
    front: str | None = None
    """Where the front of the machine is in that, as seen by who tightens: up, right, down or left."""
    top: str | None = None
    """Where its top is in that, when the joint does not lie flat."""
    viewpoint: str | None = None
    """Where one stands to see them so: above, the port side."""
    tightened_after: Ref | None = None
    """The group of the same joint that is tightened before it; both are measured from one point."""
    sequence: tuple[int, ...] = ()
    """Numbers of the pieces in tightening order: as given, or worked out from where they sit."""
    order: str | None = None
    """Tightening order in the author's own words, when it is none that has a name."""
    rule: Rule | None = None
    """The order by its name: as stated, or the one that suits where they sit."""
    ordered: bool = False
    """Whether the file says anything of the order, right or wrong."""
