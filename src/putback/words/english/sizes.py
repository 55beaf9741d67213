"""Sizes of drives in English, in the order in which a mechanic says them: `13 mm hex`, `5 mm hex socket`."""

from __future__ import annotations

import re

from putback.source.grammar import unbroken

_KIND_AND_SIZE = re.compile(
    r"(?P<kind>(?:[a-z0-9-]+ )*(?:hex|slot|slotted|square|socket|key|torx|spline|flats)) "
    r"(?P<size>[0-9][0-9 ./]*(?:mm|in))",
    re.IGNORECASE,
)


def drive_said(drive: str | None) -> str:
    """Return a drive with its size in front: `13 mm hex` for `hex 13 mm`; one without a unit as it is written."""
    found = _KIND_AND_SIZE.fullmatch(drive or "")
    if found is None:
        return unbroken(drive or "")
    kind = {"inner hex": "hex socket", "slotted": "slot"}.get(found["kind"].lower(), found["kind"])
    return unbroken(f"{found['size']} {kind}")
