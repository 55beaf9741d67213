"""Heads and sizes of drives in English, in the order in which a mechanic says them: `13 mm hex`, `5 mm hex socket`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.joints.heads import HeadForm
from putback.source.grammar import unbroken

HEADS = {
    HeadForm.HEX: "Hexagon head",
    HeadForm.HEX_FLANGE: "Hexagon head with a flange",
    HeadForm.SQUARE: "Square head",
    HeadForm.SOCKET_CAP: "Cylindrical head with a socket",
    HeadForm.CHEESE: "Cheese head",
    HeadForm.PAN: "Pan head",
    HeadForm.BUTTON: "Button head",
    HeadForm.COUNTERSUNK: "Countersunk head",
    HeadForm.NONE: "Without a head",
}
"""Forms of heads."""

_KIND_AND_SIZE = re.compile(
    r"(?P<kind>(?:[a-z0-9-]+ )*(?:hex|slot|slotted|square|socket|key|torx|spline|flats)) "
    r"(?P<size>[0-9][0-9 ./]*(?:mm|in))",
    re.IGNORECASE,
)


def which_where(lengths: Sequence[tuple[str, str]]) -> list[str]:
    """Return which length is at which place, one that several places have once: `20 mm at left and right`."""
    places: dict[str, list[str]] = {}
    for place, length in lengths:
        places.setdefault(length, []).append(place)
    if len(places) == len(lengths):
        return [f"{place} {length}" for place, length in lengths]
    return [f"{length} at {' and '.join(filter(None, (', '.join(at[:-1]), at[-1])))}" for length, at in places.items()]


def drive_said(drive: str | None) -> str:
    """Return a drive with its size in front: `13 mm hex` for `hex 13 mm`; one without a unit as it is written."""
    found = _KIND_AND_SIZE.fullmatch(drive or "")
    if found is None:
        return unbroken(drive or "")
    kind = {"inner hex": "hex socket", "slotted": "slot"}.get(found["kind"].lower(), found["kind"])
    # A word of a size alone on the next line would be read as another size.
    return unbroken(f"{found['size']} {kind}").replace(" ", "\N{NO-BREAK SPACE}")
