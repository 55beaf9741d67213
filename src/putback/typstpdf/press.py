"""The parent's side of the compile: fonts, the child process, and messages that point at the author's line."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import font_source_sans_pro
from sphinx.errors import SphinxError

FACES = ("Regular", "It", "Semibold", "SemiboldIt", "Bold", "BoldIt")
"""The cuts of Source Sans Pro that the manual is set in; all else comes from the typst wheel."""

FAMILIES = ("Source Sans Pro", "DejaVu Sans Mono")
"""The families of the manual, in the order in which a glyph is looked for."""

PROGRAM = Path(__file__).with_name("compile.py")
"""What runs in the process of its own."""

STANDARDS = ("ua-1", "a-2a")
"""PDF/UA-1: a manual that a screen reader can read, or none at all; PDF/A-2a: one that can be kept for decades."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why the manual could not be printed, ready for the user."""

    message: str
    """What was found, and what was expected."""
    place: str = ""
    """The author's file and line, `path:line`; empty when it belongs to none."""

    def __str__(self) -> str:
        return f"{self.place}: {self.message}" if self.place else self.message


class ManualError(SphinxError):
    """The manual could not be printed."""

    category = "printed manual"

    def __init__(self, *reasons: Reason) -> None:
        super().__init__("\n".join(map(str, reasons)))
        self.reasons = reasons


class StoppedError(ManualError):
    """The press did not come to an end: too much work, too much memory, or it broke down."""


class SpentError(StoppedError):
    """It had too little time or memory: what it was given may be right, and only much."""


@dataclass(frozen=True, slots=True)
class PressLimits:
    """What the press may take."""

    seconds: int
    """Of work, all cores together."""
    size: int
    """Bytes of memory."""


SMALL = PressLimits(20, 1536 << 20)
"""For one question, or one picture on a sheet of its own."""

PATIENCE = 4
"""So many times its seconds of work the press may be waited for: other programs work as well."""


def limits_for(source: int, pixels: int, shapes: int) -> PressLimits:
    """Return limits for a manual: bytes of its source, pixels and shapes of its pictures.

    Measured on two cores: 974 full pages with 300 drawings took 8 s of work and 1.7 GB; 49 million pixels of a PNG 1 s
    and up to 600 MiB; 200,000 shapes half a second and 210 MiB. A slow machine may take twenty times as long.
    """
    return PressLimits(
        60 + source // 20_000 + pixels // 2_000_000 + shapes // 10_000,
        (2 << 30) + 400 * source + 16 * pixels + 2_000 * shapes,
    )


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing that Typst said."""

    message: str
    """What, in Typst's words, with its hint in brackets."""
    line: int
    """The line of the Typst source that it concerns, from 1; 0 when unknown."""
    picture: str = ""
    """The file of the picture that it concerns, in the folder of pictures."""


@dataclass(frozen=True, slots=True)
class Printed:
    """The outcome of a compile."""

    errors: tuple[Remark, ...]
    """Why there is no PDF; empty when there is one."""
    warnings: tuple[Remark, ...]
    """What to look at."""


def lay_out_fonts(folder: Path) -> Path:
    """Copy the faces of the manual into `folder` and return it.

    The wheel has each face in two formats, and which of them Typst takes would depend on the order of the disk.
    """
    folder.mkdir(parents=True, exist_ok=True)
    source = Path(font_source_sans_pro.font_directory)
    for face in FACES:
        name = f"SourceSansPro-{face}.otf"
        try:
            if not (folder / name).exists():
                shutil.copyfile(source / name, folder / name)
        except OSError as error:
            raise ManualError(Reason(f"font {name} could not be copied: {error.strerror}")) from error
    return folder


def compile_manual(
    source: Path, output: Path, root: Path, fonts: Path, timestamp: int, limits: PressLimits = SMALL
) -> Printed:
    """Compile `source` to `output`; `timestamp` in seconds since 1970 (UTC). Reads outside `root` are refused.

    Raises `StoppedError` when the press does not come to an end within its limits.
    """
    answer = _ask(
        {
            # Typst takes no path that is not UTF-8, so it gets only those below the folder that it works in.
            "folder": str(root),
            "source": _below(root, source),
            "output": _below(root, output),
            "root": ".",
            "fonts": [_below(root, fonts)],
            "standards": list(STANDARDS),
            "timestamp": timestamp,
        },
        limits,
    )
    return Printed(_remarks(answer["errors"]), _remarks(answer["warnings"]))


def unprintable(letters: Sequence[str], fonts: Path) -> frozenset[str]:
    """Return those of `letters` that no font of the manual has a glyph for."""
    if not letters:
        return frozenset()
    answer = _ask({"folder": str(fonts), "letters": list(letters), "fonts": ["."], "faces": FAMILIES}, SMALL)
    return frozenset(map(str, answer["letters"]))


def _below(folder: Path, path: Path) -> str:
    try:
        return os.path.relpath(path, folder)
    except ValueError:  # another drive
        return str(path)


def _remarks(records: Sequence[dict[str, Any]]) -> tuple[Remark, ...]:
    return tuple(
        Remark(
            record["message"] + (f" ({record['hint']})" if record["hint"] else ""), record["line"], record["picture"]
        )
        for record in records
    )


def _ask(request: dict[str, Any], limits: PressLimits) -> dict[str, Any]:
    # -P: the folder of the program must not stand on the path, where its modules would hide others.
    command = [sys.executable, "-P", str(PROGRAM)]
    whole = json.dumps({**request, "limits": [limits.seconds, limits.size]}).encode()
    slow = f"it was still not done after {limits.seconds} s of work"
    try:
        child = subprocess.run(
            command, input=whole, capture_output=True, check=False, timeout=limits.seconds * PATIENCE
        )
    except subprocess.TimeoutExpired:
        raise SpentError(Reason(slow)) from None
    except OSError as error:
        raise ManualError(Reason(f"the press could not be started: {error.strerror}")) from error
    if child.returncode == 0:
        answer: dict[str, Any] = json.loads(child.stdout)
        return answer
    if child.returncode == -getattr(signal, "SIGXCPU", 0):
        raise SpentError(Reason(slow))
    if child.returncode == -getattr(signal, "SIGKILL", 0):
        # Nobody here does that: it is what a system does that runs out of memory.
        raise SpentError(Reason("it needed more memory than there is"))
    # What it said is of its own insides: a trace of calls, or the size that it asked for last.
    if b"memory allocation" in child.stderr or b"MemoryError" in child.stderr:
        raise SpentError(Reason(f"it needed more than {limits.size // 1_000_000:,} MB of memory"))
    raise StoppedError(Reason("it broke down"))
