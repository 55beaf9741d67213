"""Comparing a file with its schema, and making records of it: the first byte says which kind of file it is."""

from __future__ import annotations

from functools import partial
from typing import Any

from putback.model.build_job import build_block, build_job
from putback.model.build_library import (
    build_caution,
    build_consumable,
    build_entries,
    build_equipment,
    build_hazard,
    build_tool,
)  # fmt: skip
from putback.model.build_machine import build_machine
from putback.model.cover import build_cover
from putback.model.said import said_in
from putback.model.symptoms import build_symptoms
from putback.source.load import Mapping
from putback.source.schema import FileKind, _compiled, review
from tests.fuzz.targets.promises import hold, hold_findings, hold_place
from tests.fuzz.targets.yaml import NAME, read

BUILD: dict[FileKind, Any] = {
    FileKind.GUIDE: build_cover,
    FileKind.MACHINE: partial(build_machine, path=NAME),
    FileKind.JOB: partial(build_job, path=NAME),
    FileKind.BLOCK: partial(build_block, path=NAME),
    FileKind.CAUTIONS: partial(build_entries, build=build_caution),
    FileKind.TOOLS: partial(build_entries, build=build_tool),
    FileKind.CONSUMABLES: partial(build_entries, build=build_consumable),
    FileKind.HAZARDS: partial(build_entries, build=build_hazard),
    FileKind.EQUIPMENT: partial(build_entries, build=build_equipment),
    FileKind.SYMPTOMS: build_symptoms,
}
"""What makes records of each kind of file."""
KINDS = tuple(FileKind)


def attempt(data: bytes) -> str:
    """Compare a file with its schema; make records of what is good."""
    if not data:
        return ""
    kind, content = KINDS[data[0] % len(KINDS)], data[1:]
    loaded = read(content)
    if loaded.root is None or loaded.faults:
        return ""
    reviewed = review(loaded, kind)
    told = hold_findings(reviewed.faults, NAME, content)
    good = _compiled(kind).is_valid(loaded.root.plain())
    hold(good is not bool(reviewed.faults), "refused without a word, or a word without a reason", told)
    hold(not good or reviewed.root is not None, "good, and not used", told)
    again = review(loaded, kind)
    hold(again.faults == reviewed.faults, "other faults the second time", again.faults)
    if not isinstance(reviewed.root, Mapping):
        return told
    records, faults = BUILD[kind](reviewed.root)
    if reviewed.root is loaded.root:
        for record in records.values() if isinstance(records, dict) else (records,):
            for _, said in said_in(record):
                hold_place("a text", said.span, content)
    return f"{told}\n{hold_findings(faults, NAME, content)}"
