"""Streams that are closed, full or left by their reader; names that a terminal would obey; faults of Putback."""

from __future__ import annotations

import json
import os
import shlex
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import putback as package
from putback.cli import main
from putback.lint.report.json import write as as_json
from putback.lint.report.text import write as as_text
from putback.lint.result import Result
from putback.source.finding import Also, Finding, Level
from putback.source.plainly import in_json, printable
from putback.source.span import Span
from tests.conftest import Putback, Write

SRC = Path(package.__file__).parents[1]
RUN = "from putback.cli import main; main()"
COMMANDS = [
    "--help",
    "--version",
    "explain",
    "explain left-off",
    "lint",
    "lint --format json",
    "lint -h",
    "new other",
    "schema pump",
    "build --to html",
]


def bash(words: str, cwd: Path, **extra: str) -> subprocess.CompletedProcess[str]:
    """Run a line of shell; `putback` is ours. The exit code is that of the first command."""
    ours = f"{shlex.quote(sys.executable)} -c {shlex.quote(RUN)}"
    line = f'putback() {{ {ours} "$@"; }}; {words}; exit ${{PIPESTATUS[0]}}'
    environment = {key: value for key, value in os.environ.items() if key != "PUTBACK_TRACEBACK"}
    environment |= {"PYTHONPATH": str(SRC), **extra}
    return subprocess.run(["bash", "-c", line], cwd=cwd, env=environment, capture_output=True, text=True, check=False)


@pytest.fixture
def above(write_guide: Write) -> Path:
    return write_guide({"pump/index.md": "# Pump\n\n```{toctree}\nmachine\njobs/look\n```\n"}).parent


def clean(text: str) -> bool:
    return not any(word in text for word in ("Traceback", "Exception ignored", "most recent call", 'File "'))


FULL = "Error: the output cannot be written: no space left on device"
CLOSED = "Error: standard output is closed, so there is nowhere to write"


@pytest.mark.parametrize(
    ("command", "how", "said"),
    [
        *((command, ">/dev/full", FULL) for command in COMMANDS),
        *((command, ">&-", CLOSED) for command in COMMANDS),
        *(("lint", how, "") for how in (">&- 2>&-", "<&- >&- 2>&-", ">/dev/full 2>&-", ">/dev/full 2>/dev/full")),
    ],
)
def test_an_output_that_cannot_be_written(command: str, how: str, said: str, above: Path) -> None:
    ran = bash(f"putback {command} {how}", above)
    assert (ran.returncode, ran.stdout, ran.stderr.strip().split("\n")[-1]) == (2, "", said)
    assert ran.stderr.count("Error: ") == bool(said), "it is said once"
    assert clean(ran.stderr)


@pytest.mark.parametrize("command", COMMANDS)
def test_closed_streams_that_are_not_needed(command: str, above: Path) -> None:
    ran = bash(f"putback {command} 2>&- <&-", above)
    assert ran.returncode == 0
    assert ran.stdout
    assert clean(ran.stdout)


@pytest.mark.parametrize("words", ["lint nowhere", "frobnicate", "lint --frobnicate", "new ''"])
def test_a_message_that_nobody_can_be_told(words: str, above: Path) -> None:
    for how in ("2>&-", "2>/dev/full", ">&- 2>&-", ">/dev/full 2>/dev/full"):
        ran = bash(f"putback {words} {how}", above)
        assert (ran.returncode, ran.stderr) == (2, "")


@pytest.mark.parametrize("command", ["explain", "explain left-off", "lint --format json", "--help"])
def test_a_reader_that_goes_away(command: str, above: Path) -> None:
    job = above / "pump" / "jobs" / "look.yaml"
    job.write_text("job: Look\nsteps:\n" + "  - clean: lidd\n" * 2000, encoding="utf-8")
    ran = bash(f"putback {command} | true", above)
    assert ran.returncode in (0, 1, 2)
    assert ran.stderr == ""
    for buffered in ("", "1"):
        ran = bash("putback lint | head -c 9", above, PYTHONUNBUFFERED=buffered)
        assert (ran.returncode, ran.stderr) == (2, "")


def test_a_closed_stream_is_no_file_of_the_manual(above: Path) -> None:
    """The first file that a program opens would get the number of a stream that is closed, and its messages."""
    ran = bash("putback build --to pdf 2>&- <&-", above)
    assert ran.returncode == 0
    assert next(above.glob("build/**/*.pdf")).read_bytes().startswith(b"%PDF")


def test_an_interruption(above: Path) -> None:
    environment = os.environ | {"PYTHONPATH": str(SRC)}
    wait = (
        "import time, putback.lint.run as lint\n"
        "lint.lint_guide = lambda *_: (print('here', flush=True), time.sleep(60))"
    )
    with subprocess.Popen(
        [sys.executable, "-c", f"{wait}\n{RUN}", "lint"],
        cwd=above, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as running:  # fmt: skip
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.readline()
        time.sleep(0.2)
        running.send_signal(signal.SIGINT)
        assert clean(running.stderr.read())
        assert running.wait() == 130


@pytest.mark.parametrize("command", ["lint", "lint .", "lint --format json", "build", "new other"])
def test_a_folder_that_is_gone(command: str, tmp_path: Path) -> None:
    (tmp_path / "gone").mkdir()
    ran = bash(f"cd gone; rmdir ../gone; putback {command}", tmp_path)
    assert (ran.returncode, clean(ran.stderr)) == (0, True) or ran.returncode == 2
    ran = bash(f"cd {tmp_path}; mkdir -p gone; cd gone; rmdir ../gone; putback {command} >&2", tmp_path)
    assert ran.stderr.endswith("Error: the current folder no longer exists; go to another one\n")
    assert bash("mkdir -p gone; cd gone; rmdir ../gone; putback explain left-off", tmp_path).stdout.startswith(
        "left-off"
    )


# Faults of Putback


FAULTS = {
    "ValueError('odd \\x1b[2J')": "Error: ValueError: odd \\x1b[2J",
    "MemoryError()": "Error: there is not enough memory",
    "RecursionError('maximum')": "Error: something refers to itself, or is nested too deeply",
    "AssertionError()": "Error: AssertionError",
    "KeyError('lid')": "Error: KeyError: 'lid'",
}


@pytest.mark.parametrize("raised", FAULTS)
@pytest.mark.parametrize("command", ["lint pump", "build pump"])
def test_a_fault_of_putback_is_called_one(raised: str, command: str, above: Path) -> None:
    broken = (
        "import putback.lint.run as lint, putback.lint.opening as opening\ndef fail(*_):\n"
        f"    error = {raised}\n    error.add_note('while checking x')\n    raise error\n"
        "opening.open_witnessed = lint.lint_guide = fail"
    )
    ours = [sys.executable, "-c", f"{broken}\n{RUN}", *command.split()]
    environment = {key: value for key, value in os.environ.items() if key != "PUTBACK_TRACEBACK"} | {
        "PYTHONPATH": str(SRC)
    }
    ran = subprocess.run(ours, cwd=above, env=environment, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.split("\n") == [
        f"{FAULTS[raised]}, while checking x",
        "This is a fault in Putback, not in your files. Please report it, with the guide if you can.",
        f"It was called as: putback {command}",
        "With PUTBACK_TRACEBACK=1 in the environment, it says where in the program it happened.",
        "",
    ]
    environment["PUTBACK_TRACEBACK"] = "1"
    ran = subprocess.run(ours, cwd=above, env=environment, capture_output=True, text=True, check=False)
    assert ran.returncode == 2
    assert "Traceback (most recent call last)" in ran.stderr


def test_a_guide_that_cannot_be_read_for_want_of_memory_is_named(above: Path) -> None:
    broken = "import putback.lint.run as lint\ndef fail(*_, **__): raise MemoryError\nlint.read_guide = fail"
    environment = os.environ | {"PYTHONPATH": str(SRC)}
    ran = subprocess.run(
        [sys.executable, "-c", f"{broken}\n{RUN}", "lint"],
        cwd=above,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.stderr.startswith("Error: there is not enough memory, while reading pump\n")


# What a terminal would obey


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("18 N·m → 漢字 😀 é", "18 N·m → 漢字 😀 é"),
        ("a\x1b[2Jb", "a\\x1b[2Jb"), ("a\nb\r\tc", "a\\x0ab\\x0d\\x09c"), ("\x00\x7f\x9b", "\\x00\\x7f\\x9b"),
        ("M8 \u202e021", "M8 \\u202e021"), ("\u2066\u2069\u200f", "\\u2066\\u2069\\u200f"), ("a\u2028b", "a\\u2028b"),
        ("g\udcffuide", "g\\xffuide"), ("\ud800", "\\ud800"), ("\ufeff", "\\ufeff"),
    ],
)  # fmt: skip
def test_what_is_shown(text: str, said: str) -> None:
    assert printable(text) == said
    assert json.loads(in_json(json.dumps(text, ensure_ascii=False))) == text
    assert not set(in_json(json.dumps(text, ensure_ascii=False))) & set("\x7f\x9b\u202e\u2066\udcff\ud800")


def test_findings_show_what_cannot_be_seen(tmp_path: Path) -> None:
    file = tmp_path / "a\x1bb.yaml"
    file.write_text("note: x\x1b[31m \u202e021 end\n", encoding="utf-8")
    span = Span(str(file), 1, 14, 1, 18)
    finding = Finding("left-off", Level.ERROR, span, "six\x1bs", (Also(span, "n\u202e"),), "do\x07", (("a", "b\n"),))
    text, data = as_text(Result((finding,))), as_json(Result((finding,)))
    assert not set(text) & set("\x1b\x07\u202e")
    assert "six\\x1bs (only when a = b\\x0a)" in text
    assert "    1 | note: x\\x1b[31m \\u202e021 end\n      |                 ~~~~~~~~~" in text
    assert not set(data) & set("\x1b\x07\u202e")
    assert json.loads(data)["findings"][0]["message"] == "six\x1bs"


HOSTILE = ["a\x1b]0;x\x07b", "a\nError: all is well", "a\u202eb", "a\x9b2J", "[red]a"]


@pytest.mark.parametrize("name", HOSTILE)
@pytest.mark.parametrize(
    "command", ["lint {}", "build --to html {}", "explain {}", "new {}/x", "lint --{}", "{}", "lint --variant {}"]
)
def test_names_that_a_terminal_would_obey(
    name: str, command: str, putback: Putback, above: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(above)
    (above / "pump").rename(above / name)
    answer = putback(*(word.format(name) for word in command.split()))
    told = answer.out + answer.err
    assert not set(told) & set("\x1b\x07\u202e\x9b")
    assert not any(line.startswith("Error: all is well") for line in told.split("\n"))


def test_a_name_that_is_no_text(putback: Putback, above: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(above)
    name = os.fsdecode(b"pump\xff")
    (above / "pump").rename(above / name)
    (above / name / "jobs" / "look.yaml").write_text("job: Look\nsteps: [{clean: lidd}]\n", encoding="utf-8")
    answer = putback("lint", name)
    assert answer.code == 1
    assert "\npump\\xff/jobs/look.yaml\n" in f"\n{answer.out}"
    assert putback("lint", "--format", "json", name).data["findings"][0]["path"] == "pump\\xff/jobs/look.yaml"


def test_the_command_leaves_with_its_code(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["--version"])
    assert left.value.code == 0
    assert capsys.readouterr().out.startswith("putback, version ")
