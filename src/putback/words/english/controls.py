"""How a control comes to a position, in English, when the author has no words for it."""

from __future__ import annotations

import re

_PREPOSITION = re.compile(r"(on|in|at|into|onto|under|over|off|out of|beside|behind|against|between)\s", re.IGNORECASE)
_DONE = {
    "stopped": "stop", "started": "start", "running": "start", "locked": "lock", "unlocked": "unlock", "pulled": "pull",
    "pushed": "push", "pressed": "press", "released": "release", "free": "free", "freed": "free", "raised": "raise",
    "lowered": "lower", "engaged": "engage", "disengaged": "disengage", "applied": "apply", "unplugged": "unplug",
    "clipped": "clip",
}  # fmt: skip
"""What is done to bring a control to a position that is called by what has been done to it."""


def brought(thing: str, position: str) -> str:
    """Return how a control, with its article, comes to a position: `close the seacock`."""
    match position.lower():
        case "on" | "off":
            # A switch is not switched: the word stands there already.
            return f"{'turn' if thing.endswith('switch') else 'switch'} {thing} {position}"
        case "open":
            return f"open {thing}"
        case "closed" | "shut":
            return f"close {thing}"
        case word if word in _DONE:
            return f"{_DONE[word]} {thing}"
        case _:
            return f"put {thing} {position}" if _PREPOSITION.match(position) else f"set {thing} to {position}"
