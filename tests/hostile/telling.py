"""What is said of a small guide with something hostile in it."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from putback.lint import check_guide

GUIDE = "title: Trial\n"
MACHINE = "machine: Trial\nparts:\n  lid: {}\n"
JOB = "job: Look\nsteps:\n  - inspect: lid\n"

Said = tuple[str, str]
"""The part of the file that a finding points at, and `check: message`."""


class Row(NamedTuple):
    """One line of a table."""

    written: str
    """What is put into the file."""
    place: str
    """The part of the file that the finding covers."""
    said: str
    """`check: message`."""


def tell(folder: Path, files: dict[str, str]) -> list[Said]:
    """Return everything that is said of a guide with these files, and the usual ones for those that it lacks."""
    whole = {"guide.yaml": GUIDE, "machine.yaml": MACHINE, "jobs/job.yaml": JOB} | files
    root = folder / "guide"
    for name, text in whole.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
    (folder / "shared").mkdir(exist_ok=True)
    (folder / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
    guide, findings, _ = check_guide(root)
    texts = {f"{guide.shown}/{name}": text for name, text in whole.items()}
    return [(finding.span.cut(texts[finding.span.path]), f"{finding.check}: {finding.message}") for finding in findings]
