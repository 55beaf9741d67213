"""A file or folder is there, but is not read.

What it says is not checked and not printed, while everything seems to be in order: naming a file `hazards.yml` takes
every warning away. So it is reported, whatever keeps it from being read: another name or ending, a folder, a broken
link, a pipe, no permission, more than four million bytes.

Jobs are `jobs/*.yaml`, blocks `blocks/*.yaml`, pages `*.md`. Rename the file or folder, or move it, or replace it with
a file that can be read. Copies that an editor keeps (`x.yaml~`, `.x.yaml`, `x.yaml.bak`) are not reported.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.READING
INJURES = True
STAGE = "guide"

FAILS = """
# jobs/engine/extra.yaml
^ this file is not read
job: Extra
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""

PASSES = """
# jobs/extra.yaml
job: Extra
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""
