"""What has changed since a revision, as git says it; no program that a repository names is run.

git is told to leave out what it would start for a repository: file watchers, hooks, pagers, other programs that
compare or convert, filters of contents, and fetching. Whose repository it opens at all, git decides (`safe.directory`).
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

from putback.lint.search import NoHistoryError
from putback.source.intake import resolved
from putback.source.nearest import nearest
from putback.source.plainly import printable

_CALM = (
    "--no-pager", "--no-optional-locks", "--literal-pathspecs",
    "-c", "core.fsmonitor=false", "-c", f"core.hooksPath={os.devnull}",
)  # fmt: skip
"""What every call of git begins with: nothing is started, and nothing waits for another git."""

_DIFF = (
    "diff", "--name-only", "-z", "--no-renames", "--no-color", "--no-relative", "--no-ext-diff", "--no-textconv",
    "--ignore-submodules=dirty", f"-O{os.devnull}",
)  # fmt: skip
"""Names of files that differ from a commit, those in the work tree included; a renamed file by both of its names."""

_OTHERS = ("--others", "--exclude-standard", "-z", "--")
"""With `ls-files`: new files that git does not know and does not ignore."""

_KEPT = ("GIT_CEILING_DIRECTORIES", "GIT_DISCOVERY_ACROSS_FILESYSTEM", "GIT_EXEC_PATH")
"""Of git's variables, those that only say how git is installed and how far it looks for a repository.

With those of `GIT_CONFIG_…`, the user's settings. The others, as `GIT_DIR` in a hook, could mean another repository.
"""

_FILTERS = re.compile(rb"filter\.(.+)\.[^.]+", re.DOTALL)
_COMMIT = re.compile(rb"[0-9a-f]{40,64}\n?")
_NO_SUCH = 128
"""git's exit code when it could not do what it was asked."""


class Changes(NamedTuple):
    """What has changed in one repository."""

    top: Path
    """The folder of the repository, after all links."""
    files: frozenset[Path]
    """Every file that differs, is gone or is new; not what git ignores."""


def changes_since(revision: str, folders: Iterable[Path]) -> list[Changes]:
    """Return what differs between the work trees of the folders' repositories and where they left `revision`.

    That is the last commit that is in `revision` and in HEAD as well, as for `git diff REVISION...`; but what is not
    yet committed counts too. Raises `NoHistoryError`.
    """
    found: dict[Path, Changes] = {}
    for folder in dict.fromkeys(map(resolved, folders)):
        git = _Git(folder)
        top = git.top()
        if top not in found:
            found[top] = Changes(top, _Git(top).files_since(revision))
    return [*found.values()]


class _Git:
    """git, called in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.program = shutil.which("git")
        if self.program is None or not os.path.isabs(self.program):  # noqa: PTH117 - not one that lies in this folder
            raise NoHistoryError("--changed-since needs git, which is not installed; install it, or check everything")
        self.settings: dict[str, str] = {}

    def ask(self, *words: str, none: Iterable[int] = ()) -> bytes | None:
        """Return what git prints; None with an exit code of `none`. Raises `NoHistoryError` with any other."""
        command = [str(self.program), *_CALM, *words]
        environment = _environment(os.environ) | self.settings
        try:
            done = subprocess.run(
                command, cwd=self.folder, env=environment, stdin=subprocess.DEVNULL, capture_output=True, check=False
            )
        except OSError as error:
            raise NoHistoryError(f"git cannot be run: {(error.strerror or str(error)).lower()}") from None
        if done.returncode == 0:
            return done.stdout
        if done.returncode in none:
            return None
        raise NoHistoryError(f"git cannot say what has changed: {_reason(done.stderr)}")

    def top(self) -> Path:
        """Return the folder of the repository."""
        try:
            found = self.ask("rev-parse", "--show-toplevel") or b""
        except NoHistoryError as error:
            shown = printable(str(self.folder))
            if "not a git repository" in str(error):
                raise NoHistoryError(f"'{shown}' is in no git repository, so nothing says what has changed") from None
            if "dubious ownership" in str(error):
                trust = f"if you trust it: git config --global --add safe.directory '{shown}'"
                raise NoHistoryError(f"git does not open '{shown}', which belongs to somebody else; {trust}") from None
            raise
        return resolved(Path(os.fsdecode(found.removesuffix(b"\n"))))

    def files_since(self, revision: str) -> frozenset[Path]:
        """Return every file that differs from where HEAD left a revision."""
        commit, head = self.commit(revision), self.commit("HEAD")
        if commit is None and (head or revision != "HEAD"):
            raise NoHistoryError(self.unknown(revision))
        if commit is None:  # before the first commit, everything is new
            return self.named(self.ask("ls-files", "--cached", *_OTHERS) or b"")
        if head is None:
            raise NoHistoryError("there is no commit yet, so nothing to compare with; check everything")
        bases = self.ask("merge-base", "--all", commit, "HEAD", none=(1,))
        if not bases:
            raise NoHistoryError(self.unrelated(revision))
        self.settings = self.without_filters()
        names = self.ask("ls-files", *_OTHERS) or b""
        for base in bases.decode("ascii").split():
            names += self.ask(*_DIFF, base, "--") or b""
        return self.named(names)

    def named(self, names: bytes) -> frozenset[Path]:
        """Return files by the names that git prints of them."""
        return frozenset(self.folder / os.fsdecode(name) for name in names.split(b"\0") if name)

    def commit(self, revision: str) -> str | None:
        """Return the commit that a revision stands for; None when it stands for none."""
        words = ("rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
        found = self.ask(*words, none=(1, _NO_SUCH))
        return found.decode("ascii").strip() if found and _COMMIT.fullmatch(found) else None

    def without_filters(self) -> dict[str, str]:
        """Return settings, as environment, in which no filter of contents is run when files are compared."""
        names = (self.ask("config", "--list", "--name-only", "-z") or b"").split(b"\0")
        filters = sorted({os.fsdecode(found[1]) for name in names if (found := _FILTERS.fullmatch(name))})
        wanted = [(f"filter.{name}.{key}", "") for name in filters for key in ("clean", "process")]
        wanted += [(f"filter.{name}.required", "false") for name in filters]
        first = int(count) if (count := os.environ.get("GIT_CONFIG_COUNT", "")).isdecimal() else 0
        settings = {"GIT_CONFIG_COUNT": str(first + len(wanted))} if wanted else {}
        for number, (key, value) in enumerate(wanted, first):
            settings |= {f"GIT_CONFIG_KEY_{number}": key, f"GIT_CONFIG_VALUE_{number}": value}
        return settings

    def is_shallow(self) -> bool:
        """Tell whether only the last part of the history is here."""
        return (self.ask("rev-parse", "--is-shallow-repository", none=(_NO_SUCH,)) or b"").strip() == b"true"

    def unknown(self, revision: str) -> str:
        """Return what is to be said of a revision that does not exist here."""
        told = f"git knows no revision '{printable(revision)}'"
        if ".." in revision:
            return f"{told}: write one revision and not a range, such as {printable(revision.split('..')[0]) or 'main'}"
        listed = self.ask("for-each-ref", "--format=%(refname:short)") or b""
        known = [os.fsdecode(name) for name in listed.splitlines()]
        near = next((name for name in known if name.endswith(f"/{revision}")), None) or nearest(revision, known)
        if near:
            return f"{told}; did you mean '{printable(near)}'?"
        if self.is_shallow():
            return f"{told} in this clone, which has only a part of the history; {_FETCH}"
        return told

    def unrelated(self, revision: str) -> str:
        """Return what is to be said of a revision that shares no commit with HEAD."""
        shown = printable(revision)
        if self.is_shallow():
            return f"where '{shown}' and HEAD part is not in this clone, which has only a part of the history; {_FETCH}"
        return f"'{shown}' and HEAD have no commit in common; name a revision that HEAD comes from"


_FETCH = "fetch all of it: 'git fetch --unshallow', or 'fetch-depth: 0' in the step that checks out"


def _environment(given: Mapping[str, str]) -> dict[str, str]:
    """Return the environment for git: nothing in it names another repository or a program, and nothing is fetched."""
    kept = {
        name: value
        for name, value in given.items()
        if not name.startswith("GIT_") or name.startswith("GIT_CONFIG_") or name in _KEPT
    }
    calm = {"LC_ALL": "C", "GIT_TERMINAL_PROMPT": "0", "GIT_ALLOW_PROTOCOL": "none", "GIT_NO_LAZY_FETCH": "1"}
    return kept | calm


def _reason(said: bytes) -> str:
    """Return the first line that git said, as part of a sentence."""
    lines = [line for line in said.decode("utf-8", "replace").splitlines() if line.strip()]
    first = next((line for line in lines if line.startswith(("fatal:", "error:"))), lines[0] if lines else "")
    return printable(first.removeprefix("fatal: ").removeprefix("error: ")) or "it gives no reason"
