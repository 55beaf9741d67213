"""What the documentation says is so: its commands print what is pasted, its examples run, its lists are whole."""

from __future__ import annotations

import importlib.util
import json
import re
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

from putback.checks import own_checks
from putback.guide.library import FILES
from putback.source.schema import shipped
from putback.sphinxext.directives import DIRECTIVES
from putback.sphinxext.domain import PutbackDomain
from putback.typstpdf.settings import SETTINGS
from tests.pasted import ROOT, renewed

DOCS = ROOT / "docs"
PAGES = [
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
    *sorted(page for page in DOCS.rglob("*.md") if not {"changes", "_build"} & {*page.parts}),
]
WITH_OUTPUT = [page for page in PAGES if re.search(r"^```console$", page.read_text(encoding="utf-8"), re.MULTILINE)]


def name_of(page: Path) -> str:
    return page.relative_to(ROOT).as_posix()


def test_some_pages_show_output() -> None:
    assert {name_of(page) for page in WITH_OUTPUT} >= {
        "README.md",
        "docs/tutorial/first-job.md",
        "docs/reference/findings.md",
    }


@pytest.mark.parametrize("page", WITH_OUTPUT, ids=name_of)
def test_pasted_output_is_what_is_printed_today(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert renewed(text, page) == text


def test_other_output_is_seen() -> None:
    """The guard of the test above: a page whose output is not true is not equal to its renewal."""
    text = "<!-- file: a.txt -->\n\n```text\none\n```\n\n```console\n$ cat a.txt\ntwo\n```\n"
    assert renewed(text) == text.replace("two", "one")


def console_blocks(text: str) -> list[str]:
    return re.findall(r"^```console\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)


def test_the_readme_has_the_two_commands() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = readme.partition("## Two commands")[2].partition("\n## ")[0]
    make, check = re.findall(r"^```\n(.*)\n```$", commands, re.MULTILINE)
    assert make.startswith("python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/putback build ")
    assert make.endswith(" procedures/hollin-20 --to html,pdf")
    assert check == ".ci/run"


def test_the_program_for_developers_prints_what_is_shown() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    program = re.search(r"^```python\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)
    shown = re.search(r"^```text\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)
    assert program is not None
    assert shown is not None
    ran = subprocess.run([sys.executable, "-c", program[1]], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (ran.stdout, ran.stderr) == (shown[1], "")


@pytest.mark.parametrize(
    ("command", "code"),
    [("lint whole", 0), ("lint broken", 1), ("lint nowhere", 2), ("lint torn", 2), ("build broken", 1)],
)
def test_exit_codes_are_those_of_the_page(command: str, code: int, tmp_path: Path) -> None:
    main = [sys.executable, "-c", "from putback.cli import main; main()"]
    for guide in ("whole", "broken", "torn"):
        subprocess.run([*main, "new", guide], cwd=tmp_path, check=True, capture_output=True)
    job = tmp_path / "broken" / "jobs" / "blades.yaml"
    job.write_text(job.read_text(encoding="utf-8").replace("      - install: blades\n", ""), encoding="utf-8")
    (tmp_path / "torn" / "jobs" / "blades.yaml").write_text("job: [\n", encoding="utf-8")
    ran = subprocess.run([*main, *command.split()], cwd=tmp_path, capture_output=True, check=False)
    assert ran.returncode == code


# Lists on pages against the package


def first_column(text: str, heading: str) -> list[str]:
    """Return the code words of the first column of the tables under a heading, down to the next heading."""
    section = re.split(r"^#+ ", text.partition(f"# {heading}\n")[2], maxsplit=1, flags=re.MULTILINE)[0]
    rows = re.findall(r"^\| (`[^|]*) \|", section, re.MULTILINE)
    return [word for row in rows for word in re.findall(r"`([^`]+)`", row)]


def test_the_findings_page_lists_every_key() -> None:
    text = (DOCS / "reference" / "findings.md").read_text(encoding="utf-8")
    block = next(block for block in console_blocks(text) if '"findings"' in block)
    printed = json.loads(block.partition("\n")[2])
    assert sorted(first_column(text, "A finding")) == sorted(printed["findings"][0])
    assert sorted(first_column(text, "The summary")) == sorted(printed["summary"])
    also = next(line for line in text.splitlines() if line.startswith("| `also`"))
    assert set(re.findall(r"`([a-z_]+)`", also)) - {"also"} == set(printed["findings"][0]["also"][0])


def test_the_sphinx_page_lists_roles_directives_and_settings() -> None:
    text = (DOCS / "reference" / "sphinx.md").read_text(encoding="utf-8")
    roles = {word.removeprefix("{putback:").removesuffix("}") for word in first_column(text, "Roles")}
    assert roles == set(PutbackDomain.roles)
    assert set(first_column(text, "Directives")) == set(DIRECTIVES)
    assert set(first_column(text, "Settings")) == {name for name, _, _ in SETTINGS} | {"putback_lint"}


def test_the_library_page_shows_every_file() -> None:
    text = (DOCS / "reference" / "library.md").read_text(encoding="utf-8")
    assert set(re.findall(r"^```\{putback-library\} (\w+)$", text, re.MULTILINE)) == set(FILES)
    assert {path.stem for path in shipped("shared").glob("*.yaml")} == set(FILES)


@pytest.fixture(scope="module")
def changelog() -> ModuleType:
    spec = importlib.util.spec_from_file_location("changelog", DOCS / "_ext" / "changelog.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["changelog"] = module  # its records look for it there
    spec.loader.exec_module(module)
    return module


def test_fragments_of_the_changelog_are_named_and_numbered(changelog: ModuleType) -> None:
    kept = ("renames.tsv", changelog.RELEASED)
    files = [path.name for path in (DOCS / "changes").rglob("*") if path.is_file() and path.name not in kept]
    numbers = [found[1] for name in files if (found := changelog.CHANGE.fullmatch(name))]
    assert len(numbers) == len(files)
    assert len(set(numbers)) == len(numbers)
    assert numbers


@pytest.mark.parametrize("page", PAGES, ids=name_of)
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    for target in re.findall(r"\]\((?!https?:)([^)#\s]+)[^)]*\)", text):
        path = page.parent / target
        is_check = path.parent.name == "checks" and path.stem in own_checks()
        assert path.exists() or is_check, target


def test_the_limits_are_those_of_the_program() -> None:
    from putback import checks
    from putback.guide import nesting
    from putback.ledger import length, passes
    from putback.source import intake, load
    from putback.variants import space

    text = (
        (ROOT / "docs" / "why" / "speed.md")
        .read_text(encoding="utf-8")
        .partition("## Limits")[2]
        .partition("## What")[0]
    )
    told = [
        int(row.split("|")[2].replace(",", ""))
        for row in text.splitlines()
        if row.startswith("| ") and row[-3].isdigit()
    ]
    assert told == [
        intake.LARGEST, intake.LARGEST_PAGE, intake.LARGEST_PICTURE,
        load._DEEPEST, nesting.DEEPEST_BLOCKS, length.MOST_STEPS,
        passes.MOST_PASSES, passes.MOST_STEPS, space.ALLOWANCE, checks.CHECKING, checks.PER_BOOK,
    ]  # fmt: skip
