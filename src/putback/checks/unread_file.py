"""A file looks like part of the guide and is not read.

A job with the wrong ending, or in a folder of its own, is never checked and never printed, while everything seems to be
in order.

Jobs are `jobs/*.yaml`, blocks `blocks/*.yaml`. Rename the file or folder, or move it.
"""

from putback.finding import Level

LEVEL = Level.ERROR
STAGE = "guide"

FAILS = """
# jobs/engine/extra.yaml
^ this file is not read
job: Extra
steps:
  - inspect: belt-guard
"""

PASSES = """
# jobs/extra.yaml
job: Extra
steps:
  - inspect: belt-guard
"""
