"""A job as a mechanic works through it: numbered lines, what to lay out before, what to count after.

`lines` writes a job out with its blocks, `layout` says what it needs, `countback` what comes off and goes back,
`followup` what is tightened once more later. Every output prints these, so that paper and screen say the same.
"""

from putback.sheet.countback import CountBack, count_back
from putback.sheet.followup import FollowUp, follow_ups
from putback.sheet.layout import Layout, lay_out
from putback.sheet.lines import Line, Passage, write_lines
from putback.sheet.safety import wear_of

__all__ = [
    "CountBack", "FollowUp", "Layout", "Line", "Passage", "count_back", "follow_ups", "lay_out", "wear_of",
    "write_lines",
]  # fmt: skip
