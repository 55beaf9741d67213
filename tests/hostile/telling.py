"""What is said of a small guide with something hostile in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeAlias

from putback.lint.run import check_guide

FILES = {
    "guide.yaml": "title: Trial\n",
    "machine.yaml": "machine: Trial\nparts:\n  lid: {}\n",
    "jobs/job.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n",
}
HERE = "@@"
"""Where a frame takes what is hostile."""

Row: TypeAlias = tuple[str, str, str]
"""What is written, the part of the file that the finding covers, and `check: message`."""


@dataclass(frozen=True)
class Table:
    """Inputs that go into the same place of the same file."""

    file: str
    """The file, from the guide's folder."""
    frame: str
    """Its text, with `@@` where the input goes."""
    refused: tuple[Row, ...]
    """Inputs of which one thing is said."""
    good: tuple[str, ...] = ()
    """Inputs that look as bad and are good."""
    beside: Mapping[str, str] = field(default_factory=dict)
    """Other files of the guide."""

    def tell(self, folder: Path, written: str) -> list[tuple[str, str]]:
        """Return what is said of one input."""
        return tell(folder, {**self.beside, self.file: self.frame.replace(HERE, written)})


def tell(folder: Path, files: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return everything that is said of a guide with these files: the place, as it stands there, and the message."""
    whole = {**FILES, **files}
    root = folder / "guide"
    for name, text in whole.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
    (folder / "shared").mkdir()
    (folder / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
    guide, findings, _ = check_guide(root)
    texts = {f"{guide.shown}/{name}": text for name, text in whole.items()}
    return [(finding.span.cut(texts[finding.span.path]), f"{finding.check}: {finding.message}") for finding in findings]


def bad_rows(tables: Mapping[str, Table]) -> list[tuple[str, Row]]:
    """Return each input that is refused, with the name of its table."""
    return [(name, row) for name, table in tables.items() for row in table.refused]


def good_rows(tables: Mapping[str, Table]) -> list[tuple[str, str]]:
    """Return each input that is good, with the name of its table."""
    return [(name, written) for name, table in tables.items() for written in table.good]
