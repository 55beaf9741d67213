"""Output that is pasted in the documentation: run again and compared. `python -m tests.pasted FILE ...` renews it.

A block ```` ```console ```` holds commands behind `$ ` and what they print. All blocks of a page run in order in one
new empty folder, with the command `putback`. Comments do what the text tells the reader to do:

    <!-- before: cp -r "$CLONE"/shared . -->     runs a line of shell; CLONE is the folder of the source
    <!-- file: guide/jobs/oil.yaml -->           writes the block below it into a file
    <!-- append: guide/machine.yaml -->          adds it to the end of one
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[1]

_PIECE = re.compile(
    r"<!-- before: (?P<edit>.*?) -->"
    r"|<!-- (?P<how>file|append): (?P<path>\S+) -->\s+```[a-z]+\n(?P<block>.*?)^```$"
    r"|^```console\n(?P<console>.*?)^```$",
    re.DOTALL | re.MULTILINE,
)


def renewed(text: str) -> str:
    """Return a page with the output of its commands as it is today. Raises `CalledProcessError` when an edit fails."""
    with TemporaryDirectory() as folder:
        place = Path(folder)
        place /= "here"
        place.mkdir()
        command = Path(folder) / "bin" / "putback"
        command.parent.mkdir()
        run = shlex.join([sys.executable, "-c", "from putback.cli import main; main()"])
        command.write_text(f'#!/bin/sh\nexec {run} "$@"\n', encoding="utf-8")
        command.chmod(0o755)
        return _PIECE.sub(lambda piece: _piece(piece, place), text)


def _piece(piece: re.Match[str], place: Path) -> str:
    if piece["edit"] is not None:
        _shell(piece["edit"], place, check=True)
        return piece[0]
    if piece["how"] is not None:
        with (place / piece["path"]).open("a" if piece["how"] == "append" else "w", encoding="utf-8") as file:
            file.write(piece["block"])
        return piece[0]
    lines = []
    for line in piece["console"].splitlines():
        if line.startswith("$ "):
            lines += [line, *_shell(line[2:], place, check=False).splitlines()]
    body = "\n".join(line.rstrip() for line in lines)
    return f"```console\n{body}\n```"


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
        page = Path(name)
        page.write_text(renewed(page.read_text(encoding="utf-8")), encoding="utf-8")
