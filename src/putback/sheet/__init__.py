"""A job as a mechanic works through it, read from its book: numbered steps, what to lay out, what to count after.

`steps` numbers what the ledger's program has, `parting` says each to those who have its things, `setup` says what the
job needs, `tooling` with which tools, `counting` what comes off and goes back, `adjusted` which settings it disturbs,
`followup` what is tightened once more later, `protection` what to wear and what is waste. `survey` and `ways` ask the
book what happens when every inspection is good, and when one is not. Every output prints the same sheet.
"""

from putback.sheet.adjusted import SettingBack
from putback.sheet.followup import FollowUp
from putback.sheet.job import CountBack, JobSheet, sheet_of
from putback.sheet.lines import Grid, SecondTool, SheetOutcome, SheetSection, SheetStep, Shown
from putback.sheet.protection import wear_of
from putback.sheet.setup import NewPart, SetUp
from putback.sheet.wanted import LaidOut

__all__ = [
    "CountBack", "FollowUp", "Grid", "JobSheet", "LaidOut", "NewPart", "SecondTool", "SetUp", "SettingBack",
    "SheetOutcome", "SheetSection", "SheetStep", "Shown", "sheet_of", "wear_of",
]  # fmt: skip
