"""Inputs that reach what others do not, kept: one JSON file a target, a line an input, each byte as a character."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

FOLDER = Path(__file__).parent / "corpus"


def kept(target: str) -> list[bytes]:
    """Return the inputs that are kept for a target."""
    path = FOLDER / f"{target}.json"
    return [line.encode("latin-1") for line in json.loads(path.read_text(encoding="utf-8"))] if path.exists() else []


def keep(target: str, inputs: Iterable[bytes]) -> Path:
    """Keep these inputs for a target and no others: the shortest first, each once."""
    lines = [json.dumps(data.decode("latin-1")) for data in sorted(set(inputs), key=lambda data: (len(data), data))]
    path = FOLDER / f"{target}.json"
    path.parent.mkdir(exist_ok=True)
    path.write_text("[\n" + ",\n".join(lines) + "\n]\n", encoding="utf-8")
    return path


def read_folder(folder: Path) -> list[bytes]:
    """Return the files of a folder that a fuzzer wrote."""
    return [path.read_bytes() for path in sorted(folder.iterdir()) if path.is_file()]


def write_folder(folder: Path, inputs: Iterable[bytes]) -> None:
    """Write inputs as files that a fuzzer reads."""
    folder.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(inputs):
        (folder / f"{number:05}").write_bytes(data)
