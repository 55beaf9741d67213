"""What a verb takes and what its reverse is, in words: for the reference, and for `putback explain`."""

from __future__ import annotations

from putback.model.verb import AnyVerb
from putback.source.keys import about_verb

_CALLED = {
    "part": "a part",
    "fastener": "a fastener",
    "line": "a line",
    "fluid": "a fluid",
    "control": "a control",
    "setting": "a setting",
    "equipment": "equipment",
    "consumable": "a consumable",
    "caution": "a safety message",
    "block": "a block, by the name of its file",
    "place": "places of the machine",
    "step": "the `name` of an earlier step that is not in an `otherwise` or an outcome itself",
}


def taken(verb: AnyVerb) -> str:
    """Return what the value of a verb may be."""
    value = about_verb(verb.name).takes
    if value == "text" or not (verb.takes or verb.words):
        return "words" if value == "text" else value
    kinds = [_CALLED[kind] for kind in verb.takes] or ["`engine`"]
    if verb.takes == ("fastener",):
        kinds.append("a screwed part")
    said = ", ".join(kinds[:-1]) + (" or " if kinds[1:] else "") + kinds[-1]
    several = "; or a list of these" if "list" in value else ""
    return f"{said}{several}{'; or words' if verb.words else ''}"


def reversed_(verb: AnyVerb) -> str:
    """Return what `reverse` makes of a verb."""
    if verb.way_back:
        return verb.way_back
    return "It cannot be reversed." if verb.one_way else "It is left out."
