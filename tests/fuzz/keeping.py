"""Inputs that once failed, as small files: JSON, so that every character can be written and seen."""

from __future__ import annotations

import json
from pathlib import Path

from tests.fuzz.judging import stem_of
from tests.fuzz.trial import Files

FOLDER = Path(__file__).parent / "regressions"


def as_case(files: Files, kind: str) -> str:
    """Return an input as the text of a regression file: lists of lines; bytes that are no text as hex digits."""
    shown = {
        name: {"hex": content.hex()} if isinstance(content, bytes) else content.split("\n")
        for name, content in sorted(files.items())
    }
    return json.dumps({"failed": kind, "files": shown}, indent=1)


def read_case(path: Path) -> Files:
    """Return the input that a regression file holds."""
    data = json.loads(path.read_text(encoding="utf-8"))
    return {
        name: bytes.fromhex(content["hex"]) if isinstance(content, dict) else "\n".join(content)
        for name, content in data["files"].items()
    }


def keep(folder: Path, files: Files, kind: str) -> Path:
    """Write an input into a folder, under a name made of what failed."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{stem_of(kind)}.json"
    path.write_text(as_case(files, kind) + "\n", encoding="utf-8")
    return path
