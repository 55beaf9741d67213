"""Checks that another package brings: a small one, put on the path of modules as an installer would."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import putback as package
from putback.checks import Check, all_checks
from tests.brought.package.src.quayside_rules import no_time
from tests.conftest import Putback, Write

PACKAGE = Path(__file__).parent / "package"
MODULE = (PACKAGE / "src" / "quayside_rules" / "no_time.py").read_text(encoding="utf-8")
SRC = Path(package.__file__).parents[1]
COMMAND = "import sys; from putback.cli import main; sys.exit(main())"

_is_a_check: Check = no_time
"""mypy compares the module with the protocol."""


def install(folder: Path, files: dict[str, str] | None = None, source: Path = PACKAGE, name: str = "") -> None:
    """Put a package where modules are looked for, with what an installer writes beside it."""
    data = tomllib.loads((source / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    name = name or data["name"]
    shutil.copytree(source / "src", folder, dirs_exist_ok=True)
    info = folder / f"{name.replace('-', '_')}-{data['version']}.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: {data['version']}\n")
    points = "".join(
        f"[{group}]\n" + "".join(f"{point} = {value}\n" for point, value in named.items())
        for group, named in data["entry-points"].items()
    )
    (info / "entry_points.txt").write_text(points)
    for path, text in (files or {}).items():
        (folder / path).write_text(text, encoding="utf-8")


class Shell:
    """Runs Putback where a package is installed."""

    def __init__(self, site: Path, cwd: Path) -> None:
        self.site, self.cwd = site, cwd

    def run(self, *args: str, **extra: str) -> subprocess.CompletedProcess[str]:
        path = os.pathsep.join([str(SRC), str(self.site)])
        return subprocess.run(
            [sys.executable, *args], cwd=self.cwd, env=os.environ | {"PYTHONPATH": path} | extra,
            capture_output=True, text=True, check=False,
        )  # fmt: skip

    def putback(self, *args: str, **extra: str) -> subprocess.CompletedProcess[str]:
        return self.run("-c", COMMAND, *args, **extra)


@pytest.fixture
def shell(tmp_path: Path, write_guide: Write) -> Shell:
    write_guide({})
    (tmp_path / "site").mkdir()
    return Shell(tmp_path / "site", tmp_path)


def test_a_check_of_a_package_finds_is_explained_and_can_be_waived(shell: Shell) -> None:
    assert shell.putback("lint", "pump").returncode == 0
    install(shell.site)
    found = shell.putback("lint", "pump")
    assert (found.returncode, found.stderr) == (0, "")
    assert "  this job has no time\n    1 | job: Look under the lid\n" in found.stdout
    assert "      warning no-time at pump/jobs/look.yaml:1:1\n" in found.stdout

    listed = shell.putback("explain").stdout.splitlines()
    assert [line for line in listed if "quayside" in line] == [
        f"{'no-time':<20}  warning  A job does not say how long it takes. [quayside-rules]"
    ]
    explained = shell.putback("explain", "no_time").stdout
    assert explained.startswith("no-time (warning)\n\nA job does not say how long it takes.\n")
    assert "It comes with the package 'quayside-rules'." in explained
    assert "    ^^^ this job has no time\n" in explained

    job = shell.cwd / "pump" / "jobs" / "look.yaml"
    job.write_text("job: Look under the lid\nwaive: {no-time: a look}\nsteps:\n  - clean: lid\n", encoding="utf-8")
    assert "everything goes back" in shell.putback("lint", "pump").stdout


def test_the_tests_of_the_package_run_on_their_own(shell: Shell) -> None:
    install(shell.site)
    shutil.copy(PACKAGE / "test_rules.py", shell.cwd)
    ran = shell.run("-m", "pytest", "-q", "-p", "no:cacheprovider", "test_rules.py")
    assert ran.returncode == 0, ran.stdout
    assert "2 passed" in ran.stdout


def test_an_example_that_does_not_hold_is_told_line_by_line(shell: Shell) -> None:
    text = (PACKAGE / "src" / "quayside_rules" / "no_time.py").read_text(encoding="utf-8")
    install(
        shell.site, {"quayside_rules/no_time.py": text.replace("^^^ this job has no time", "^^^^ this has no time")}
    )
    ran = shell.run("-c", "from putback.testing import assert_examples; assert_examples('no-time')")
    assert ran.stderr.splitlines()[-4:] == [
        "AssertionError: an example of 'no-time' is not as it is marked:",
        "marked, not found: jobs/example.yaml:1:1-5 this has no time",
        "found, not marked: jobs/example.yaml:1:1-4 this job has no time",
        "^^^ this job has no time",
    ]


@pytest.mark.parametrize(
    ("call", "told"),
    [
        ("checks_of('quay')", "no package 'quay' brings checks: it must be installed, and have the entry point"),
        ("assert_examples('no-tide')", "there is no check 'no-tide': the package that brings it must be installed"),
    ],
)
def test_what_is_not_installed_is_no_test_that_passes(call: str, told: str, shell: Shell) -> None:
    install(shell.site)
    ran = shell.run("-c", f"import putback.testing as t; t.{call}")
    assert ran.stderr.splitlines()[-1] == f"LookupError: {told}"


HEAD = "the check 'no-time' of the package 'quayside-rules' (module quayside_rules.no_time) "
BRINGS = "the package 'quayside-rules' brings checks by 'quayside = quayside_rules', and that cannot be loaded: "
FAILED = "the check 'no-time' of the package 'quayside-rules' failed in pump: "
LEVELS = "it must be one of Level.ERROR, Level.WARNING and Level.ADVICE"
FIND = "it must be a function of one argument, the opened guide, that yields Faults"

SLIPS = {
    "a level misspelt": ("LEVEL =", "LEVLE =", f"{HEAD}has no LEVEL: {LEVELS}; is 'LEVLE' meant for it?"),
    "a generator misspelt": ("def find", "def fnid", f"{HEAD}has no find: {FIND}; is 'fnid' meant for it?"),
    "no level": ("LEVEL =", "_L =", f"{HEAD}has no LEVEL: {LEVELS}"),
    "a level in words": ("Level.WARNING", "'warning'", f"{HEAD}has LEVEL = 'warning': {LEVELS}"),
    "no example": (
        "PASSES =", "_PASSES =",
        f"{HEAD}has no PASSES: it must be an example as text, in which nothing is wrong",
    ),
    "an optional name misspelt": (
        "LEVEL =", "INJURE = True\nLEVEL =",
        f"{HEAD}has 'INJURE': write INJURES when that is meant, or begin the name with '_'",
    ),
    "no truth": ("LEVEL =", "INJURES = 1\nLEVEL =", f"{HEAD}has INJURES = 1: it must be True or False"),
    "kinds that there are none of": (
        "LEVEL =", "NEEDS = frozenset({'tide'})\nLEVEL =",
        f"{HEAD}has NEEDS = frozenset({{'tide'}}): it must be a frozenset of some of block, caution, ",
    ),
    "two arguments": ("find(opened: Opened)", "find(guide, opened)", f"{HEAD}has find = "),
    "no docstring": ('"""A job does not', 'X = """A job does not', f"{HEAD}has no docstring: say what is wrong"),
    "a stage": ("LEVEL =", "STAGE = 'load'\nLEVEL =", f"{HEAD}has STAGE, which only checks of Putback itself have"),
    "what raises at import": (
        "LEVEL =", "1 / 0\nLEVEL =",
        f"{BRINGS}ZeroDivisionError: division by zero (module quayside_rules.no_time)",
    ),
    "what leaves at import": ("LEVEL =", "raise SystemExit(0)\nLEVEL =", f"{BRINGS}SystemExit: 0"),
    "no Python": ("LEVEL =", "LEVEL ===", f"{BRINGS}SyntaxError: "),
    "what raises at work": (
        "if job.time is None", "if 1 / 0",
        f"{FAILED}ZeroDivisionError: division by zero\nWith PUTBACK_TRACEBACK=1 in the environment, it says where",
    ),
    "what yields something else": (
        "yield Fault(", "yield dict(span=job.span) or (",
        f"{FAILED}TypeError: find must yield Faults with a span and a message, not {{'span': ",
    ),
    "what yields a fault without a place": (
        "yield Fault(job.span", "yield Fault(None", f"{FAILED}TypeError: find must yield Faults with a span",
    ),
    "what gives back nothing": (
        "yield Fault(", "return None and (", f"{FAILED}TypeError: find must yield Faults, but returned None",
    ),
}  # fmt: skip
"""What stands in the module, what stands there instead, and what is told."""


@pytest.fixture
def site(tmp_path: Path, write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of this process's own path, whose checks are forgotten afterwards."""
    write_guide({})
    site = tmp_path / "site"
    site.mkdir()
    monkeypatch.syspath_prepend(site)
    all_checks.cache_clear()
    yield site
    all_checks.cache_clear()
    for name in [name for name in sys.modules if name.partition(".")[0].endswith("_rules")]:
        del sys.modules[name]


@pytest.mark.parametrize(("was", "instead", "told"), SLIPS.values(), ids=SLIPS)
def test_a_check_that_is_not_as_it_must_be_is_told_and_never_left_out(
    was: str, instead: str, told: str, site: Path, putback: Putback
) -> None:
    text = MODULE.replace(was, instead).replace(', hint="add', ', "add')
    assert text.count(instead) == 1
    install(site, {"quayside_rules/no_time.py": text})
    ran = putback("lint", "pump")
    assert (ran.code, ran.out) == (2, "")
    assert f"Error: {told}" in ran.err


def test_a_manual_is_not_built_past_a_check_that_fails(shell: Shell) -> None:
    install(shell.site, {"quayside_rules/no_time.py": MODULE.replace("if job.time is None", "if 1 / 0")})
    ran = shell.putback("build", "pump", "--draft")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith(f"Error: {FAILED}")
    assert "in find\n    if 1 / 0" in shell.putback("lint", "pump", PUTBACK_TRACEBACK="1").stderr


def test_all_that_is_wrong_is_told_at_once(site: Path, putback: Putback) -> None:
    install(site, {"quayside_rules/left_off.py": "LEVEL = 1\n"})
    told = putback("explain", "left-off").err.splitlines()
    assert len(told) == 7
    assert (
        told[-1]
        == "the check 'left-off' of the package 'quayside-rules' has the name of a check of Putback: give it another"
    )


def test_two_packages_with_a_check_of_one_name(site: Path, putback: Putback) -> None:
    install(site)
    other = site.parent / "other"
    shutil.copytree(PACKAGE, other)
    (other / "src" / "quayside_rules").rename(other / "src" / "harbour_rules")
    pyproject = (other / "pyproject.toml").read_text(encoding="utf-8")
    (other / "pyproject.toml").write_text(pyproject.replace('"quayside_rules"', '"harbour_rules.no_time"'), "utf-8")
    install(site, source=other, name="harbour-rules")
    assert putback("lint", "pump").err == (
        "Error: the check 'no-time' of the package 'quayside-rules' has the name of a check of the package "
        "'harbour-rules': give it another\n"
    )


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("quayside_rules:no_time", "it must name a folder of modules, or a module, and nothing in it"),
        ("tide_rules", "and that cannot be loaded: ModuleNotFoundError: No module named 'tide_rules'"),
    ],
)
def test_an_entry_point_that_leads_nowhere(value: str, told: str, site: Path, putback: Putback) -> None:
    install(site)
    (points,) = site.glob("*.dist-info/entry_points.txt")
    points.write_text(f"[putback.checks]\nquayside = {value}\n", encoding="utf-8")
    ran = putback("lint", "pump")
    assert ran.code == 2
    assert ran.err.startswith(f"Error: the package 'quayside-rules' brings checks by 'quayside = {value}'")
    assert told in ran.err


def test_entry_points_that_nobody_can_read(site: Path, putback: Putback) -> None:
    install(site)
    (points,) = site.glob("*.dist-info/entry_points.txt")
    points.write_text("[putback.checks]\nquayside\n", encoding="utf-8")
    ran = putback("lint", "pump")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("Error: what installed packages bring cannot be read: ")


def test_a_package_without_a_name_is_called_by_what_it_brings(site: Path, putback: Putback) -> None:
    install(site)
    (metadata,) = site.glob("*.dist-info/METADATA")
    metadata.write_text("Metadata-Version: 2.1\n", encoding="utf-8")
    assert "[quayside_rules]" in putback("explain").out


def test_packages_are_looked_for_only_where_one_brings_checks(shell: Shell) -> None:
    program = f"{COMMAND.replace('sys.exit(main())', '')}\ntry: main(['explain'])\nexcept SystemExit: pass\n"
    program += "print('importlib.metadata' in sys.modules)"
    assert shell.run("-c", program).stdout.splitlines()[-1] == "False"
    install(shell.site)
    assert shell.run("-c", program).stdout.splitlines()[-1] == "True"
