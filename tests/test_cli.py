"""The command as a shell calls it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

import putback as package
from putback.checks import all_checks
from tests.conftest import Putback, Write

SRC = Path(package.__file__).parents[1]
RUN = "import sys; from putback.cli import main; sys.exit(main())"


def shell(*args: str, cwd: Path, **extra: str) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"PYTHONPATH": str(SRC)} | extra
    return subprocess.run(
        [sys.executable, "-c", RUN, *args], cwd=cwd, env=environment, capture_output=True, text=True, check=False
    )


# Exit codes, in a process of its own


@pytest.mark.parametrize(
    ("job", "code"),
    [
        ("job: Look\nsteps:\n  - clean: lid\n", 0),
        ("job: Look\nsteps:\n  - clean: lid\n    figure: lid.svg\n    waive: {no-alt-text: plain}\n", 1),
        ("job: Look\nsteps:\n  - remove: lid\n", 1),
        ("job: [\n", 2),
    ],
)
def test_exit_codes(job: str, code: int, write_guide: Write) -> None:
    folder = write_guide({"pump/jobs/look.yaml": job})
    ran = shell("lint", "pump", cwd=folder.parent)
    assert (ran.returncode, ran.stderr) == (code, "")


def test_what_a_name_can_be_is_no_part_of_a_sentence(write_guide: Write) -> None:
    """A step that is called `cleaned` must not make "it can be cleaned" of it."""
    job = (
        "job: Look\nsteps:\n  - inspect: lid\n    name: cleaned\n  - inspect: lid\n    otherwise:\n"
        "      - back-to: somewhere\n"
    )
    folder = write_guide({"pump/jobs/look.yaml": job})
    assert "\n      fix: it can be 'cleaned'\n" in shell("lint", "pump", cwd=folder.parent).stdout


def test_warnings_alone_are_no_failure(write_guide: Write) -> None:
    folder = write_guide(
        {
            "pump/images/lid.svg": '<svg xmlns="http://www.w3.org/2000/svg"/>',
            "pump/jobs/look.yaml": "job: Look\nsteps:\n  - clean: lid\n    figure: lid.svg\n",
        }
    )
    ran = shell("lint", cwd=folder.parent)
    assert ran.returncode == 0
    assert ran.stdout.endswith("1 job, 1 step in 4 files: 1 warning\n")


def test_a_reader_that_goes_away_gets_no_traceback(write_guide: Write) -> None:
    folder = write_guide({"pump/jobs/look.yaml": "job: Look\nsteps:\n" + "  - clean: lidd\n" * 3000})
    environment = os.environ | {"PYTHONPATH": str(SRC)}
    with subprocess.Popen(
        [sys.executable, "-c", RUN, "lint"],
        cwd=folder.parent,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.readline()
        running.stdout.close()
        assert running.stderr.read() == ""


@pytest.mark.parametrize("encoding", ["utf-8", "latin-1"])
def test_a_terminal_that_lacks_letters_gets_no_traceback(encoding: str, write_guide: Write) -> None:
    folder = write_guide({"pump/jobs/look.yaml": "job: Look\nsteps:\n  - clean: lid\n    figure: lid.svg\n"})
    ran = shell("lint", cwd=folder.parent, PYTHONIOENCODING=encoding)
    assert "Traceback" not in ran.stderr
    assert ran.returncode == 1


# Words


def test_help_names_every_command_in_the_order_of_work(putback: Putback) -> None:
    out = putback("--help").out
    names = [line.split()[0] for line in out.partition("Commands:")[2].strip().split("\n")]
    assert names[:2] == ["new", "lint"]
    assert {"new", "lint", "build", "explain", "schema"} <= set(names)


@pytest.mark.parametrize("command", ["new", "lint", "build", "explain", "schema"])
def test_every_command_has_help(command: str, putback: Putback) -> None:
    answer = putback(command, "-h")
    assert answer.code == 0
    assert answer.out.startswith(f"Usage: putback {command} ")


def test_the_version(putback: Putback) -> None:
    assert putback("--version").out == f"putback, version {package.__version__}\n"


def test_a_misspelt_command(putback: Putback) -> None:
    answer = putback("lnit")
    assert answer.code == 2
    assert answer.err.endswith("Error: there is no command 'lnit'; did you mean 'lint'?\n")


def test_a_command_like_none(putback: Putback) -> None:
    answer = putback("frobnicate")
    assert (answer.code, answer.err.endswith("Error: there is no command 'frobnicate'\n")) == (2, True)


# Colour


def test_no_colour_but_on_a_terminal(write_guide: Write) -> None:
    folder = write_guide({"pump/jobs/look.yaml": "job: Look\nsteps:\n  - clean: lidd\n"})
    assert "\x1b" not in shell("lint", cwd=folder.parent).stdout


@pytest.mark.parametrize(
    ("name", "value", "coloured"), [("NO_COLOR", "1", False), ("TERM", "dumb", False), ("TERM", "xterm", True)]
)
def test_colour_on_a_terminal(name: str, value: str, coloured: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    from putback.cli.paint import painter

    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert ("\x1b" in painter()("six screws", "error")) is coloured
    assert painter()("six screws", "no such role").startswith("six screws")


# Explain


@pytest.mark.parametrize("name", all_checks())
def test_every_check_is_explained(name: str, putback: Putback) -> None:
    check = all_checks()[name]
    answer = putback("explain", name)
    assert answer.code == 0
    assert answer.out.startswith(f"{name} ({check.level.value})\n\n{check.summary}\n")
    assert ("It cannot be waived" in answer.out) is not check.can_be_waived
    assert "This fails:\n\n    " in answer.out
    assert "This passes:\n\n    " in answer.out
    for line in check.module.FAILS.strip().split("\n"):
        assert line.strip() in answer.out


def test_all_checks_are_listed(putback: Putback) -> None:
    lines = putback("explain").out.strip().split("\n")
    assert [line.split()[0] for line in lines] == list(all_checks())


def test_a_misspelt_check(putback: Putback) -> None:
    answer = putback("explain", "left-of")
    assert (answer.code, answer.out) == (2, "")
    assert "there is no check, verb, key or kind of thing called 'left-of'; did you mean 'left-off'?" in answer.err
    assert "'putback explain' lists all checks" in putback("explain", "frobnicate").err


def test_a_verb_and_a_key_are_explained(putback: Putback) -> None:
    """One name may be both: a verb, and a key beside another one."""
    said = putback("explain", "turn").out
    assert said.startswith("turn (verb)\n\nTurn a shaft")
    assert "\nTakes: a part; or a list of these.\nIn reverse: It is left out.\nOther words: bar-over, " in said
    assert "\n    until: What shows that it is far enough.\n" in said
    assert "\n\nturn (key of install)\n\n" in said
    both = putback("explain", "releases-when").out
    assert both.startswith("releases-when (key of a part and a fastener)\n\n")
    assert "Takes out or loose. Without it, out.\n" in both
    assert "\n    torque: 18 N·m\n" in putback("explain", "torque").out


def test_the_keys_of_a_kind_of_thing_are_listed(putback: Putback) -> None:
    """One name may be both: a kind of thing, and a key."""
    control = putback("explain", "control").out
    assert control.startswith(
        "control (has keys of its own)\n\nIts keys:\n\n    positions: All its positions. It must be"
    )
    assert "\n    needs: How other things must be before anybody touches this one: " in control
    step = putback("explain", "step").out
    assert step.startswith("step (has keys of its own)\n\n")
    assert "\n\nstep (key of a tool)\n\n" in step
    assert "did you mean 'fastener'?" in putback("explain", "fastner").err


def test_a_check_is_found_by_the_name_of_its_file(putback: Putback) -> None:
    assert putback("explain", "left_off").out == putback("explain", "left-off").out


# New


def test_new_says_what_to_do_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback) -> None:
    monkeypatch.chdir(tmp_path)
    answer = putback("new", "pump")
    assert answer.code == 0
    assert "wrote pump/machine.yaml\n" in answer.out
    assert answer.out.endswith("\nNext: putback lint pump\n      putback build pump\n")


def test_new_goes_into_procedures_where_there_is_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "procedures").mkdir()
    assert "wrote procedures/pump/guide.yaml\n" in putback("new", "pump").out
    assert "wrote other/pump/guide.yaml\n" in putback("new", "other/pump").out


def test_new_overwrites_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "pump").mkdir()
    (tmp_path / "pump" / "mine.txt").write_text("mine", encoding="utf-8")
    answer = putback("new", "pump")
    assert answer.code == 2
    assert "'pump' already exists; nothing was written" in answer.err
    assert [path.name for path in (tmp_path / "pump").iterdir()] == ["mine.txt"]


def test_new_below_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "file").write_text("x", encoding="utf-8")
    answer = putback("new", "file/pump")
    assert answer.code == 2
    assert "'file/pump' cannot be written" in answer.err
