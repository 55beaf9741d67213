"""`--changed-since`: nothing that a change brought is left out; and each way in which a guide is touched."""

from __future__ import annotations

import os
import random
import shutil
from pathlib import Path

import pytest

from putback.lint.guides import lint
from putback.lint.search import NoGuideError, find_guides
from putback.lint.touched import changed_since
from putback.source.finding import Finding
from tests.conftest import Putback
from tests.lint.changing import BLOCK, LIBRARY, MACHINES, change, git, make_guides, write

TRIES = int(os.environ.get("PUTBACK_LAWS", "0")) or 20


def all_findings() -> set[Finding]:
    """Return what a full run finds; nothing when there is no guide any more."""
    try:
        return {*lint([Path()]).findings}
    except NoGuideError:
        return set()


def begin(seed: int, folder: Path, monkeypatch: pytest.MonkeyPatch) -> random.Random:
    """Make a repository with guides in a folder, go there, and put some links in it."""
    chance = random.Random(seed)
    monkeypatch.chdir(folder)
    make_guides(chance)
    git("init", "--quiet")
    if chance.random() < 0.7:
        change(chance, 4)
    git("add", "--all")
    git("commit", "--quiet", "--allow-empty", "--message", "The start")
    git("tag", "start")
    return chance


def test_what_is_left_out_has_not_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A run of what a change touches finds what a full run finds there, and all that the change brought."""
    left_out = brought_some = 0
    for seed in range(TRIES):
        folder = tmp_path / str(seed)
        folder.mkdir()
        chance = begin(seed, folder, monkeypatch)
        before = all_findings()
        done = change(chance)
        after = all_findings()
        try:
            found = find_guides([Path()], [])
            narrowed = lint([Path()], pick=changed_since("start", [Path()]))
        except NoGuideError:
            continue
        picked = changed_since("start", [Path()])(found).guides
        alone = {finding for root in picked for finding in lint([root]).findings}
        strays = {fault for fault in after if fault.check == "unread-file" and fault not in alone}
        assert alone <= after, (seed, done)
        assert {*narrowed.findings} - strays == alone - strays, (seed, done)
        assert after - before <= {*narrowed.findings}, (seed, done)
        left_out += len(found) - len(picked)
        brought_some += bool(after - before)
        shutil.rmtree(folder)
    assert left_out > TRIES / 4
    assert brought_some > TRIES / 4


# Each way in which a guide is touched


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Make a repository with two guides, one of them further down, and a library; go there."""
    monkeypatch.chdir(tmp_path)
    for folder in ("pump", "east/motor"):
        write(f"{folder}/guide.yaml", "title: A guide\n")
        write(f"{folder}/machine.yaml", "machine: Pump\nparts: {lid: {}, guard: {}}\n")
        write(f"{folder}/blocks/off.yaml", "block: Off\nsteps:\n  - clean: lid\n")
        write(f"{folder}/jobs/look.yaml", "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n")
    for name, text in LIBRARY.items():
        write(f"shared/{name}", text)
    write("elsewhere/jobs/open.yaml", "job: Open\nsteps:\n  - clean: lid\n")
    write("elsewhere/page.md", "# Page\n")
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "The start")
    git("tag", "start")
    return tmp_path


def commit() -> None:
    git("add", "--all")
    git("commit", "--quiet", "--message", "A change")


def touched(revision: str = "start", *paths: str) -> list[str]:
    """Return the guides that the changes since a revision touch."""
    folders = [Path(path) for path in paths or (".",)]
    picked = changed_since(revision, folders)(find_guides(folders))
    return sorted(os.path.relpath(root) for root in picked.guides)


BOTH = ["east/motor", "pump"]
OWN = [
    "machine.yaml",
    "guide.yaml",
    "jobs/look.yaml",
    "blocks/off.yaml",
    "index.md",
    "images/a.svg",
    "translations/de.po",
]


@pytest.mark.parametrize("how", ["committed", "staged", "in the work tree"])
@pytest.mark.parametrize("name", OWN)
def test_a_file_of_a_guide_touches_that_guide(name: str, how: str, repository: Path) -> None:
    del repository
    write(f"pump/{name}", "title: Another\n")
    if how == "staged":
        git("add", "--all")
    elif how == "committed":
        commit()
    assert touched() == ["pump"]


@pytest.mark.parametrize("how", ["committed", "staged", "in the work tree"])
def test_a_file_that_is_gone_or_has_another_name_touches_its_guide(how: str, repository: Path) -> None:
    (repository / "pump/jobs/look.yaml").unlink()
    (repository / "east/motor/jobs/look.yaml").rename(repository / "elsewhere/look.yaml")
    if how == "staged":
        git("add", "--all")
    elif how == "committed":
        commit()
    assert touched() == BOTH


def test_a_library_touches_the_guides_below_it_that_have_no_nearer_one(repository: Path) -> None:
    del repository
    assert touched() == []
    write("shared/tools.yaml", "wrench: {name: wrench}\n")
    assert touched() == BOTH
    commit()
    write("east/shared/tools.yaml", "wrench: {name: wrench}\n")
    assert touched("HEAD") == ["east/motor"]
    commit()
    write("shared/blocks/shared-off.yaml", BLOCK)
    assert touched("HEAD") == ["pump"]


def test_what_is_no_part_of_a_guide_touches_none(repository: Path) -> None:
    del repository
    write("elsewhere/page.md", "# Another\n")
    write("readme.md", "Words.\n")
    write("east/notes.txt", "Words.\n")
    write("pump-2/jobs/new.yaml", "job: No guide\n")
    assert touched() == []


def test_what_git_ignores_touches_none(repository: Path) -> None:
    del repository
    write(".gitignore", "*.log\n")
    write("pump/a.log", "Words.\n")
    assert touched() == []


@pytest.mark.parametrize("name", ["east/guide.yaml", "east/Machine.yml"])
def test_what_makes_a_folder_a_guide_or_none_touches_the_guides_below(name: str, repository: Path) -> None:
    del repository
    write(name, "title: A guide\n")
    commit()
    Path(name).unlink()
    assert touched("HEAD") == ["east/motor"]


def test_a_link_out_of_a_guide_is_followed(repository: Path) -> None:
    (repository / "pump/jobs/open.yaml").symlink_to("../../elsewhere/jobs/open.yaml")
    (repository / "east/motor/blocks/off.yaml").unlink()
    (repository / "east/motor/blocks").rmdir()
    (repository / "east/motor/blocks").symlink_to("../../elsewhere")
    (repository / "elsewhere/jobs/deep").symlink_to("../../deep")
    commit()
    assert touched("HEAD") == []
    write("elsewhere/jobs/open.yaml", "job: Open\nsteps:\n  - clean: guard\n")
    assert touched("HEAD") == BOTH
    commit()
    write("deep/b.yaml", "job: B\n")
    assert touched("HEAD") == ["east/motor"]


def test_a_link_to_a_guide_or_in_place_of_one_touches_it(repository: Path) -> None:
    (repository / "here").symlink_to("east/motor")
    assert touched() == ["east/motor"]
    (repository / "here").unlink()
    (repository / "pump").rename(repository / "away")
    (repository / "pump").symlink_to("away")
    assert touched() == ["away"]


def test_a_guide_of_which_git_cannot_know_is_always_checked(repository: Path) -> None:
    outside = repository.parent / f"{repository.name}-outside"
    write(outside / "one.yaml", "job: One\n")
    (repository / "pump/jobs/one.yaml").symlink_to(outside / "one.yaml")
    commit()
    assert touched("HEAD") == ["pump"]
    git("init", "--quiet", "east/motor/blocks")
    assert touched("HEAD") == BOTH
    (repository / "pump/jobs/one.yaml").unlink()
    commit()
    shutil.rmtree(repository / "east/motor/blocks/.git")
    git("init", "--quiet", "east")
    assert touched("HEAD") == ["east/motor"]


def test_a_repository_within_can_be_a_link_to_the_one_around_it(repository: Path) -> None:
    assert touched("HEAD") == []
    (repository / "east/motor/blocks/.git").symlink_to("../../../.git")
    assert touched("HEAD") == ["east/motor"]


def test_a_guide_can_be_the_whole_repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    write("guide.yaml", "title: A guide\n")
    write("machine.yaml", MACHINES[0])
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "The start")
    assert touched("HEAD") == []
    write("jobs/new.yaml", "job: New\n")
    assert touched("HEAD") == ["."]


# The command


def test_only_what_is_touched_is_checked(putback: Putback, repository: Path) -> None:
    write("east/motor/jobs/open.yaml", "job: Open\nsteps:\n  - remove: lid\n")
    write("pump/jobs/open.yaml", "job: Open\nsteps:\n  - remove: lid\n")
    git("add", "pump")
    git("commit", "--quiet", "--message", "A fault")
    run = putback("lint", "--changed-since", "HEAD", "--format", "json")
    assert run.code == 1
    assert {found["path"] for found in run.data["findings"]} == {"east/motor/jobs/open.yaml"}
    left_out = "1 guide that no change since HEAD touches"
    assert run.data["summary"]["not_checked"] == [left_out]
    (repository / "east/motor/jobs/open.yaml").unlink()
    run = putback("lint", "--changed-since", "HEAD")
    left_out = "2 guides that no change since HEAD touches"
    assert (run.code, run.out) == (0, f"0 jobs, 0 steps in 0 files: nothing to check; not checked: {left_out}\n")


def test_what_others_changed_meanwhile_does_not_count(putback: Putback, repository: Path) -> None:
    """A branch is compared with where it left the other one."""
    del repository
    git("checkout", "--quiet", "-b", "theirs")
    write("east/motor/machine.yaml", "machine: Motor\n")
    commit()
    git("checkout", "--quiet", "-b", "mine", "start")
    write("pump/machine.yaml", "machine: Pump\noptions: {a: [b, c]}\nparts: {lid: {}}\n")
    commit()
    assert touched("theirs") == ["pump"]
    git("merge", "--quiet", "--no-edit", "theirs")
    assert touched("theirs") == ["pump"]
    assert putback("lint", "--changed-since", "theirs").code == 0


def test_files_and_variants_can_be_named_as_well(putback: Putback, repository: Path) -> None:
    del repository
    write("pump/jobs/look.yaml", "job: Look\nsteps:\n  - remove: lid\n")
    write("pump/jobs/open.yaml", "job: Open\nsteps:\n  - remove: guard\n")
    run = putback("lint", "--changed-since", "start", "pump/jobs/look.yaml", "--format", "json")
    assert {found["path"] for found in run.data["findings"]} == {"pump/jobs/look.yaml"}
    write("east/motor/machine.yaml", MACHINES[1])
    commit()
    write("pump/jobs/look.yaml", "job: Look\nsteps:\n  - clean: lid\n")
    assert putback("lint", "--changed-since", "HEAD", "--variant", "shaft=long").code == 1
    run = putback("lint", "--variant", "shat=long")
    assert run.code == 2
    assert "did you mean 'shaft'" in run.err
    run = putback("lint", "--changed-since", "HEAD", "--part", "1/2")
    assert run.code == 2
    assert "leave out --changed-since" in run.err
