"""How a control comes to a position for which the author has no words, as messages."""

from __future__ import annotations

from putback.words.telling import Message

BROUGHT = {
    "on": Message("control", "Switch on: {control}."),
    "off": Message("control", "Switch off: {control}."),
    # Translators: to open a valve or a cover.
    "open": Message("control", "Open: {control}."),
    # Translators: to close a valve or a cover.
    "closed": Message("control", "Close: {control}."),
    "stopped": Message("control", "Stop: {control}."),
    "running": Message("control", "Start: {control}."),
    "locked": Message("control", "Lock: {control}."),
    "unlocked": Message("control", "Unlock: {control}."),
    "pulled": Message("control", "Pull: {control}."),
    "pushed": Message("control", "Push: {control}."),
    "pressed": Message("control", "Press: {control}."),
    "released": Message("control", "Release: {control}."),
    # Translators: to let something move that was held.
    "free": Message("control", "Free: {control}."),
    "raised": Message("control", "Raise: {control}."),
    "lowered": Message("control", "Lower: {control}."),
    # Translators: to engage a clutch or a drive.
    "engaged": Message("control", "Engage: {control}."),
    "disengaged": Message("control", "Disengage: {control}."),
    # Translators: to apply a brake.
    "applied": Message("control", "Apply: {control}."),
    # Translators: to pull the plug out of a socket.
    "unplugged": Message("control", "Unplug: {control}."),
}
"""What is said of a position, by its name as authors write it; of others, to what a control is set."""
ALIKE = {"shut": "closed", "started": "running", "freed": "free"}
"""Other names of these."""
