"""A job as a mechanic works through it: numbered lines, what to lay out before, what to count after.

`lines` writes a job out with its blocks, `layout` says what it needs, `countback` what comes off and goes back. Every
output prints these, so that paper and screen say the same.
"""

from putback.worksheet.countback import CountBack, count_back
from putback.worksheet.layout import Layout, lay_out
from putback.worksheet.lines import Line, Passage, write_lines

__all__ = ["CountBack", "Layout", "Line", "Passage", "count_back", "lay_out", "write_lines"]
