"""Equipment that may stay in place while a machine runs, as its name tells."""

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
