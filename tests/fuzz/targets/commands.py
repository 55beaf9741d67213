"""Whole commands: the bytes choose one, its options and arguments, and the guide that it is called for.

Commands and options are those that there are, so that a new one is tried on the day it comes. It ends with 0, 1 or 2,
and says something that somebody can act upon.
"""

from __future__ import annotations

import io
import os
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory

import click

from putback.cli import _run, cli
from tests.fuzz.chance import Chance
from tests.fuzz.guides import TINY
from tests.fuzz.targets.promises import hold
from tests.fuzz.texts import changed
from tests.fuzz.trial import MEMORY
from tests.fuzz.vocabulary import ODD_TEXTS

LEFT_OUT = frozenset({"build"})
"""Commands that take seconds."""
WORDS = (
    "guide", "guide/machine.yaml", "guide/jobs", "guide/jobs/first.yaml", "none", "new-one", ".", "first", "second",
    "json", "sarif", "junit", "text", "de", "en-GB", "xx", "shaft=long", "shaft=none", "colour=red", "left-off",
    "remove", "torque", "out.txt", "json:out.json", "text:none/out.txt", "1/3", "4/3", "HEAD", "html", "--", "-",
    "--no",
    *(word for word in ODD_TEXTS if len(word) < 40 and word.isprintable()),
)  # fmt: skip
"""Values of options and arguments. None leads out of the folder, since some commands write."""
SAFE = tuple(word for word in WORDS if ".." not in word and not word.startswith("/"))


def called(chance: Chance) -> list[str]:
    """Return the arguments of a command line."""
    context = click.Context(cli)
    name = chance.choice([name for name in cli.list_commands(context) if name not in LEFT_OUT])
    command = cli.get_command(context, name)
    assert command is not None
    words = [name]
    options = [option for each in command.params if isinstance(each, click.Option) for option in each.opts]
    for _ in range(chance.choice((0, 1, 1, 2))):
        words += [chance.choice([*options, "--help"]), chance.choice(SAFE)][: chance.choice((1, 2, 2))]
    words += [chance.choice(SAFE) for _ in range(chance.choice((0, 0, 1)))]
    words[1:1] = [chance.choice(("guide", "guide", "guide/jobs/first.yaml"))][: chance.choice((0, 1, 1))]
    return words


def attempt(data: bytes) -> str:
    """Call a command."""
    chance = Chance(data)
    words = called(chance)
    files = changed(TINY, chance, 1) if chance.random() < 0.3 else dict(TINY)
    before = Path.cwd()
    with TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as folder:
        for name, content in files.items():
            path = Path(folder) / "guide" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass"))
        out, err = io.StringIO(), io.StringIO()
        os.chdir(folder)
        try:
            with redirect_stdout(out), redirect_stderr(err):
                code = _run(words)
        finally:
            os.chdir(before)
    said = out.getvalue() + err.getvalue()
    hold(code in (0, 1, 2), "an exit code that there is not", f"{code} of {words}")
    hold("fault in Putback" not in said and "Traceback" not in said, "a fault of Putback", f"{words}: {said[-400:]}")
    hold(code == 0 or bool(said.strip()), "not done, and nothing says why", words)
    return f"{words} {code} {said.replace(folder, '')}"
