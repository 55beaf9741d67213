"""Words by which a question and its remedy are known, in English."""

from __future__ import annotations

import re

from putback.source.late import Late

SMALL = {
    "the", "and", "not", "are", "for", "with", "its", "when", "that", "again", "once", "more", "each",
    "all", "any", "now", "still",
}  # fmt: skip
"""Words that say nothing of what is asked."""
FITTED = {
    "gap", "clearance", "play", "backlash", "float", "tension", "preload", "deflection", "run", "runout", "protrusion",
}  # fmt: skip
"""Words of what comes of fitting: a new part does not bring it along."""
LEAKS = Late(r"\b(?:leak|drip|weep|seep|drop of|drops of|damp|bubbles?\b|wet\b)", re.IGNORECASE)
"""What is looked for at a joint, which another turn of the wrench may cure or not."""
CLEAN = {
    "clean", "clear", "free", "dirt", "dust", "dry", "open", "blocked", "clogged", "deposit", "rust", "bare", "residue",
}  # fmt: skip
"""Words of what cleaning alone brings about."""
ADJUSTS = Late(
    r"^(?!.*\b(?:until|aside|page|log|record|report|engine|crankshaft|flywheel)\b)(?!.*(?<!back )\boff\b)"
    r"(?:re)?(?:adjust|set|turn|bend|shim|lengthen|shorten|screw|slide|grind|file|stone|back off|"
    r"saw|scrape|hone|ream|lap|deepen|undercut|inflate|deflate|"
    r"(?:add|remove|take out|put|fit|insert|swap|change|exchange)\b.*\b(?:shims?|spacers?|washers?))\b",
    re.IGNORECASE | re.DOTALL,
)
"""A note that changes what was measured, and does not say until when: `Turn the star wheel.`, `Add or remove shims.`"""
LEVELS = {"level", "depth", "height", "mark"}
"""Words of how high a fluid stands."""
AGAIN = Late(r"\b(?:look|check|read|see|try|test)\b.*\b(?:again|once more|until)\b", re.DOTALL)
"""A note that has somebody look once more."""
