"""Output that is pasted in the documentation: run again and compared. `python -m tests.pasted FILE ...` renews it.

A block ```` ```console ```` holds commands after `$ ` and what they print. All blocks of a page run in order in one
new empty folder, with the command `putback`. Comments do what the text tells the reader to do:

    <!-- before: cp -r "$CLONE"/shared . -->     runs a line of shell; CLONE is the folder of the source
    <!-- file: guide/jobs/oil.yaml -->           writes the block below it into a file
    <!-- append: guide/machine.yaml -->          adds it to the end of one
    <!-- goes-on: first-job.md -->               does first what that page tells the reader to do, and those before it

In a ```` ```{code-block} ```` of a file that was there already, the lines that are new are emphasized; that is renewed
as well.
"""

from __future__ import annotations

import difflib
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[1]

_PIECE = re.compile(
    r"<!-- before: (?P<edit>.*?) -->"
    r"|<!-- goes-on: (?P<page>\S+) -->"
    r"|<!-- (?P<how>file|append): (?P<path>\S+) -->\s+"
    r"(?P<fence>`{3,})(?:[a-z]+\n|(?P<drawn>\{code-block\} [a-z]+\n)(?P<options>(?::[a-z-]+:[^\n]*\n)*)\n)"
    r"(?P<block>.*?)^(?P=fence)$"
    r"|^```console\n(?P<console>.*?)^```$",
    re.DOTALL | re.MULTILINE,
)

_EMPHASIS = re.compile(r"^:emphasize-lines:.*\n", re.MULTILINE)


def renewed(text: str, page: Path | None = None) -> str:
    """Return a page with the output of its commands as it is today. Raises `CalledProcessError` when an edit fails.

    `page` is where it lies; one that goes on from another needs it.
    """
    with TemporaryDirectory() as folder:
        place = Path(folder)
        place /= "here"
        place.mkdir()
        command = Path(folder) / "bin" / "putback"
        command.parent.mkdir()
        run = shlex.join([sys.executable, "-c", "from putback.cli import main; main()"])
        command.write_text(f'#!/bin/sh\nexec {run} "$@"\n', encoding="utf-8")
        command.chmod(0o755)
        return _PIECE.sub(lambda piece: _piece(piece, place, page), text)


def write_files(text: str, page: Path, place: Path) -> None:
    """Write the files that a page tells the reader to write, and those of the pages before it; run no command."""
    for piece in _PIECE.finditer(text):
        if piece["console"] is None:
            _piece(piece, place, page)


def _piece(piece: re.Match[str], place: Path, page: Path | None) -> str:
    if piece["edit"] is not None:
        _shell(piece["edit"], place, check=True)
        return piece[0]
    if piece["page"] is not None:
        assert page is not None
        before = page.parent / piece["page"]
        write_files(before.read_text(encoding="utf-8"), before, place)
        return piece[0]
    if piece["how"] is not None:
        return _file(piece, place / piece["path"])
    lines = []
    for line in piece["console"].splitlines():
        if line.startswith("$ "):
            lines += [line, *_shell(line[2:], place, check=False).splitlines()]
    body = "\n".join(line.rstrip() for line in lines)
    return f"```console\n{body}\n```"


def _file(piece: re.Match[str], path: Path) -> str:
    """Write a file, or add to it; return the piece, with the lines emphasized that are new in it."""
    block = piece["block"]
    path.parent.mkdir(parents=True, exist_ok=True)
    old = path.read_text(encoding="utf-8") if path.is_file() else ""
    path.write_text(old + block if piece["how"] == "append" else block, encoding="utf-8")
    if piece["drawn"] is None:
        return piece[0]
    new = new_lines(old, block) if old and piece["how"] == "file" else []
    options = _EMPHASIS.sub("", piece["options"]) + (f":emphasize-lines: {_ranges(new)}\n" if new else "")
    comment = piece[0].partition(piece["fence"])[0]
    return f"{comment}{piece['fence']}{piece['drawn']}{options}\n{block}{piece['fence']}"


def new_lines(old: str, new: str) -> list[int]:
    """Return the numbers of the lines that a text has and the one before had not."""
    pairs = difflib.SequenceMatcher(None, old.splitlines(), new.splitlines(), autojunk=False).get_opcodes()
    return [at + 1 for kind, _, _, start, end in pairs if kind in ("insert", "replace") for at in range(start, end)]


def _ranges(numbers: Iterable[int]) -> str:
    """Return numbers as Sphinx wants them: `3-5, 9`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def _shell(command: str, place: Path, *, check: bool) -> str:
    """Run one line; what it prints on either stream comes back in one text."""
    environment = {
        **os.environ,
        "CLONE": str(ROOT),
        "PATH": f"{place.parent / 'bin'}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": os.pathsep.join([str(ROOT / "src"), os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep),
        "NO_COLOR": "1",
        "COLUMNS": "100",
    }
    done = subprocess.run(
        ["bash", "-c", command], cwd=place, env=environment, check=check, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
    )  # fmt: skip
    return done.stdout


if __name__ == "__main__":
    for name in sys.argv[1:]:
        page = Path(name).resolve()
        page.write_text(renewed(page.read_text(encoding="utf-8"), page), encoding="utf-8")
