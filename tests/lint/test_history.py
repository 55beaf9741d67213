"""What git is asked, what it is kept from doing, and what is said when it cannot answer."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
from pathlib import Path

import pytest

from putback.lint.history import changes_since
from putback.lint.search import NoHistoryError
from tests.conftest import Putback, Write
from tests.lint.changing import git, write


@pytest.fixture
def repository(write_guide: Write) -> Path:
    """Make the small guide a repository with one commit; go there."""
    folder = write_guide({}).parent
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "The start")
    return folder


def changed(revision: str = "HEAD", *folders: str) -> set[str]:
    return {
        os.path.relpath(file, one.top)
        for one in changes_since(revision, [Path(folder) for folder in folders or (".",)])
        for file in one.files
    }


ODD = ["a b", "ü", "-n", "a\nb", "a\tb", '"q"', "$(x)", ":(top)x", "\udcff"]


def test_every_name_is_taken_as_it_is(repository: Path) -> None:
    for name in ODD:
        (repository / name).write_text("x", encoding="utf-8")
    assert changed() == {*ODD}
    git("add", "--all")
    assert changed() == {*ODD}
    git("commit", "--quiet", "--message", "Odd names")
    assert changed() == set()
    assert changed("HEAD~1", "pump") == {*ODD}


def test_a_file_that_only_looks_changed_is_not(repository: Path) -> None:
    os.utime(repository / "pump/guide.yaml", (1, 1))
    assert changed() == set()


def test_settings_of_a_repository_do_not_change_the_answer(repository: Path) -> None:
    for key, value in {
        "diff.renames": "copies", "diff.relative": "true", "color.ui": "always", "core.quotePath": "true",
        "status.showUntrackedFiles": "no", "diff.noprefix": "true", "diff.orderFile": "none",
        "diff.ignoreSubmodules": "all",
    }.items():  # fmt: skip
        git("config", key, value)
    (repository / "pump/jobs/look.yaml").rename(repository / "pump/jobs/see.yaml")
    git("add", "--all")
    write("pump/new.md", "x")
    os.chdir("pump")
    assert changed() == {"pump/jobs/look.yaml", "pump/jobs/see.yaml", "pump/new.md"}


# What a repository names is not run


def trap(folder: Path) -> tuple[str, Path]:
    """Return a program that leaves a file behind when it is run, and that file."""
    program, mark = folder / ".git/trap", folder / ".git/sprung"
    program.write_text(f"#!/bin/sh\ntouch '{mark}'\nexit 0\n", encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    return str(program), mark


HOSTILE = {
    "a file watcher": {"core.fsmonitor": "{}"},
    "another diff": {"diff.external": "{}"},
    "a diff by attribute": {"diff.evil.command": "{}", "diff.evil.textconv": "{}"},
    "a pager": {"core.pager": "{}", "pager.diff": "{}", "pager.ls-files": "{}", "pager.config": "{}"},
    "a filter": {"filter.evil.clean": "{}", "filter.evil.required": "true"},
    "a filter that stays": {"filter.evil.process": "{}", "filter.evil.required": "true"},
    "an editor": {"core.editor": "{}", "core.askPass": "{}", "core.sshCommand": "{}"},
    "another command": {"alias.diff": "!{}", "alias.rev-parse": "!{}", "alias.merge-base": "!{}"},
}


@pytest.mark.skipif(os.name == "nt", reason="the traps are shell scripts")
@pytest.mark.parametrize("settings", HOSTILE.values(), ids=HOSTILE)
def test_no_program_that_a_repository_names_is_run(settings: dict[str, str], repository: Path) -> None:
    program, mark = trap(repository)
    write(".gitattributes", "* diff=evil filter=evil\n")
    for name in ("post-index-change", "fsmonitor-watchman", "post-checkout", "reference-transaction", "pre-commit"):
        shutil.copy(program, f".git/hooks/{name}")
    for key, value in settings.items():
        git("config", key, value.format(program))
    write("pump/guide.yaml", "title: Bench pumq\n")
    os.utime("pump/machine.yaml", (1, 1))
    assert changed() >= {"pump/guide.yaml", ".gitattributes"}
    assert not mark.exists()


@pytest.mark.skipif(os.name == "nt", reason="the traps are shell scripts")
def test_a_filter_of_any_name_is_not_run(repository: Path) -> None:
    program, mark = trap(repository)
    config = (repository / ".git/config").read_text("utf-8")
    config += f'[filter "a=b.c d"]\n\tclean = {program}\n\trequired = true\n'
    (repository / ".git/config").write_text(config, encoding="utf-8")
    (repository / ".git/info/attributes").write_text('* "filter=a=b.c d"\n* filter=a=b.c\\ d\n', encoding="utf-8")
    write("pump/guide.yaml", "title: Bench pumq\n")
    assert changed() == {"pump/guide.yaml"}
    assert not mark.exists()


@pytest.mark.skipif(os.name == "nt", reason="the traps are shell scripts")
def test_the_traps_spring(repository: Path) -> None:
    """The guard of the tests above."""
    program, mark = trap(repository)
    write(".gitattributes", "* filter=evil\n")
    git("config", "filter.evil.clean", program)
    write("pump/guide.yaml", "title: Bench pumq\n")
    subprocess.run(["git", "diff", "--name-only"], check=False, capture_output=True)
    assert mark.exists()


def test_the_environment_names_no_other_repository(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A hook of another repository has these set."""
    program, mark = trap(repository)
    for name in ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_OBJECT_DIRECTORY"):
        monkeypatch.setenv(name, str(repository / "nowhere"))
    monkeypatch.setenv("GIT_EXTERNAL_DIFF", program)
    monkeypatch.setenv("GIT_PAGER", program)
    monkeypatch.setenv("GIT_TRACE", "1")
    write("pump/guide.yaml", "title: Another\n")
    assert changed() == {"pump/guide.yaml"}
    assert not mark.exists()


# What is said when git cannot answer


def refusal(revision: str = "HEAD", folder: str = ".") -> str:
    with pytest.raises(NoHistoryError) as error:
        changes_since(revision, [Path(folder)])
    return str(error.value)


@pytest.mark.parametrize("revision", ["--", "--output=made", "-h", "--all", "", "no such", "HEAD:pump", "nope"])
def test_a_revision_is_never_an_option(revision: str, repository: Path) -> None:
    assert refusal(revision) == f"git knows no revision '{revision}'"
    assert not (repository / "made").exists()


def test_a_revision_that_does_not_exist_has_its_neighbour_told(repository: Path) -> None:
    del repository
    git("branch", "release-2")
    git("update-ref", "refs/remotes/origin/trunk", "HEAD")
    assert refusal("relase-2") == "git knows no revision 'relase-2'; did you mean 'release-2'?"
    assert refusal("trunk") == "git knows no revision 'trunk'; did you mean 'origin/trunk'?"
    assert (
        refusal("main..HEAD") == "git knows no revision 'main..HEAD': write one revision and not a range, such as main"
    )


def test_no_repository(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    run = putback("lint", "--changed-since", "main", "pump")
    assert run.code == 2
    assert run.err.splitlines()[-1].endswith("/pump' is in no git repository, so nothing says what has changed")


def test_before_the_first_commit_everything_is_new(write_guide: Write) -> None:
    write_guide({"ignored.log": "x", ".gitignore": "*.log\n"})
    git("init", "--quiet")
    git("add", "pump")
    assert changed("HEAD") == {
        ".gitignore", "pump/guide.yaml", "pump/machine.yaml", "pump/jobs/look.yaml", "shared/tools.yaml",
    }  # fmt: skip


def test_no_commit(write_guide: Write) -> None:
    write_guide({})
    git("init", "--quiet")
    git("fetch", "--quiet", _other_history(), "HEAD:theirs")
    assert refusal("theirs") == "there is no commit yet, so nothing to compare with; check everything"


def _other_history() -> str:
    git("init", "--quiet", "other")
    git("-C", "other", "commit", "--quiet", "--allow-empty", "--message", "Another start")
    return "other"


def test_no_common_commit(repository: Path) -> None:
    del repository
    git("fetch", "--quiet", _other_history(), "HEAD:theirs")
    assert refusal("theirs") == "'theirs' and HEAD have no commit in common; name a revision that HEAD comes from"


FETCH = "fetch all of it: 'git fetch --unshallow', or 'fetch-depth: 0' in the step that checks out"


def test_a_clone_of_the_last_commits(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    git("branch", "theirs")
    git("commit", "--quiet", "--allow-empty", "--message", "Mine")
    git("checkout", "--quiet", "theirs")
    git("commit", "--quiet", "--allow-empty", "--message", "Theirs")
    git("checkout", "--quiet", "main")
    git("clone", "--quiet", "--depth", "1", "--no-single-branch", f"file://{repository}", "clone")
    monkeypatch.chdir("clone")
    told = f"where 'origin/theirs' and HEAD part is not in this clone, which has only a part of the history; {FETCH}"
    assert refusal("origin/theirs") == told
    start = git("-C", str(repository), "rev-parse", "HEAD~1").strip()
    told = f"git knows no revision '{start}' in this clone, which has only a part of the history; {FETCH}"
    assert refusal(start) == told
    git("fetch", "--quiet", "--unshallow")
    assert changed("origin/theirs") == set()


def test_git_is_not_there(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told = "--changed-since needs git, which is not installed; install it, or check everything"
    monkeypatch.setenv("PATH", str(repository / "nothing"))
    assert refusal() == told
    write("git", "#!/bin/sh\n")
    (repository / "git").chmod(0o755)
    monkeypatch.setenv("PATH", ".")
    assert refusal() == told


def test_git_says_no(repository: Path) -> None:
    (repository / ".git/config").write_text("[core\n", encoding="utf-8")
    assert refusal() == "git cannot say what has changed: bad config line 1 in file .git/config"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="needs to give a folder to somebody else")
def test_a_repository_of_somebody_else_is_not_opened(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    os.chown(repository / ".git", 12345, 12345)
    os.chown(repository, 12345, 12345)
    assert refusal() == (
        f"git does not open '{repository}', which belongs to somebody else; "
        f"if you trust it: git config --global --add safe.directory '{repository}'"
    )
