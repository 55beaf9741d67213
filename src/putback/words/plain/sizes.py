"""Heads and drives of fasteners, as messages."""

from __future__ import annotations

import re

from putback.joints.heads import HeadForm
from putback.source.late import Late
from putback.words.telling import Message

HEADS = {
    HeadForm.HEX: Message("head", "Hexagon head"),
    HeadForm.HEX_FLANGE: Message("head", "Hexagon head with a flange"),
    HeadForm.SQUARE: Message("head", "Square head"),
    # Translators: the head of a socket head cap screw.
    HeadForm.SOCKET_CAP: Message("head", "Cylindrical head with a socket"),
    # Translators: a low cylindrical head, as of a slotted cheese head screw.
    HeadForm.CHEESE: Message("head", "Cheese head"),
    HeadForm.PAN: Message("head", "Pan head"),
    HeadForm.BUTTON: Message("head", "Button head"),
    HeadForm.COUNTERSUNK: Message("head", "Countersunk head"),
    HeadForm.NONE: Message("head", "Without a head"),
}
"""Forms of heads."""

DRIVES = {
    # Translators: what turns a fastener, with the size across flats: "13 mm hex" is a hexagon for a 13 mm spanner.
    "hex": Message("drive", "{size} hex"),
    # Translators: a hexagon into which a key goes.
    "inner hex": Message("drive", "{size} hex socket"),
    # Translators: a slot for a flat screwdriver, with its width.
    "slot": Message("drive", "{size} slot"),
    # Translators: a square for a spanner or a square key.
    "square": Message("drive", "{size} square"),
    # Translators: two flats for a spanner.
    "flats": Message("drive", "{size} across flats"),
}
"""Drives that have a size, by how a file calls them."""
_ALIKE = {"slotted": "slot", "hex socket": "inner hex", "allen": "inner hex", "hexagon": "hex"}
_KIND_AND_SIZE = Late(r"(?P<kind>[a-z][a-z ]*[a-z]) (?P<size>[0-9][0-9 ./]*(?:mm|in))", re.IGNORECASE)


def drive_parts(drive: str) -> tuple[str, str]:
    """Return the kind of a drive, as `DRIVES` has it, and its size as it is marked; nothing for one without a size."""
    found = _KIND_AND_SIZE.fullmatch(drive)
    if found is None:
        return "", ""
    kind = found["kind"].lower()
    return _ALIKE.get(kind, kind), found["size"]
