"""What the name of equipment tells: whether it may stay in a run, and whether what runs into it stands open."""

from __future__ import annotations

_STAYS = frozenset({
    "barrel", "barrier", "basin", "bench", "chock", "cone", "cradle", "crane", "dolly", "extinguisher", "extractor",
    "fan", "fence", "flushing", "gantry", "gauge", "gage", "heater", "hoist", "jack", "lamp", "light", "load", "meter",
    "pallet", "ramp", "sign", "sling", "stand", "support", "tank", "tachometer", "thermometer", "trestle", "trolley",
    "tub", "voltmeter",
})  # fmt: skip
"""What holds a machine up or stands beside it, what feeds it with water or takes its power, and what shows a value."""


def stays(name: str, *, bears: bool) -> bool:
    """Tell whether equipment of a name may stay in a run; what bears a load holds the machine or a part of it."""
    words = name.lower().replace("-", " ").split()
    return bears or any(word in _STAYS or word.removesuffix("s") in _STAYS for word in words)


_OPEN = frozenset({"basin", "bowl", "bucket", "dish", "jar", "pan", "pot", "tray", "tub"})
"""What things run into, and stand open in."""


def has_lid(name: str) -> bool | None:
    """Tell whether what runs into equipment of a name is shut in; None for what things do not run into."""
    words = name.lower().replace("-", " ").split()
    if "lid" in words or "closed" in words:
        return True
    return False if any(word in _OPEN or word.removesuffix("s") in _OPEN for word in words) else None
