"""Which pages are read again: those that a changed or new file touches, and no others."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakKeyDictionary

from putback.guide.chains import Chains
from putback.guide.record import Guide
from putback.guide.stamps import cached_guide, stamp_of
from putback.model.job import Job, Sequence
from putback.model.said import said_in
from putback.model.verbs.blocks import Do, Reverse
from putback.prose.references import references
from putback.sphinxext.sources import is_page

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config
    from sphinx.environment import BuildEnvironment

_SEEN = "putback_seen"
"""Where a page's metadata say which guide it shows something of."""


_BELOW: WeakKeyDictionary[BuildEnvironment, dict[Path, frozenset[str]]] = WeakKeyDictionary()
"""The YAML files of guides, by folder, as they were when a building began: many pages ask for them."""


class _Seen(NamedTuple):
    """What there was of a guide when a page of it was read."""

    root: Path
    """The guide's folder."""
    there: frozenset[str]
    """The YAML files in its folders and in those of its library."""
    files: frozenset[str]
    """The files that the page depends on, as shown."""
    whole: bool
    """Whether those are all that the guide is made of: the page shows something of all jobs."""


def depend_on(env: BuildEnvironment, guide: Guide, files: Collection[str]) -> None:
    """Note that the current page is to be read again when one of these files (paths as shown) changes.

    It is so as well when it would depend on a file more: one with all files of the guide on a job that is new, that of
    a job on a block that was missing.
    """
    for name in files:
        env.note_dependency(str(Path(name).resolve()))
    whole, about = len(files) == len(guide.files), env.metadata[env.docname]
    before = about.get(_SEEN)
    if before is None or (whole and not before.whole):
        below = _BELOW.setdefault(env, {})
        if guide.root not in below:
            below[guide.root] = _yaml_below(guide.root)
        about[_SEEN] = _Seen(guide.root, below[guide.root], frozenset(files), whole)


def touched(app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]) -> list[str]:
    """Return the pages that show something of a guide and would depend on a file more since they were read."""
    del app, added, changed, removed
    now = _BELOW[env] = {}
    found = []
    for page, about in env.metadata.items():
        seen = about.get(_SEEN)
        if isinstance(seen, _Seen) and page in env.found_docs:
            if seen.root not in now:
                now[seen.root] = _yaml_below(seen.root)
            if not now[seen.root] <= seen.there and not seen.files >= {*_files_of_page(page, seen)}:
                found.append(page)
    return found


def _files_of_page(page: str, seen: _Seen) -> Collection[str]:
    guide = cached_guide(seen.root, stamp_of(seen.root))
    folder, _, name = f"/{page}".rpartition("/")
    own: Mapping[str, Sequence] = guide.blocks if folder.endswith("/blocks") else guide.jobs
    job = own.get(name) if folder.endswith(("/jobs", "/blocks")) else None
    if seen.whole:
        return guide.files
    return files_of_job(guide, job) if job else files_of_every_page(guide)


@lru_cache(maxsize=8)
def files_of_every_page(guide: Guide) -> Collection[str]:
    """Return the files that every page depends on: guide.yaml, machine.yaml, the library, and jobs that these name."""
    others = ("/jobs/", "/blocks/", "/symptoms.yaml")
    found = [name for name in guide.files if not any(other in f"/{name}" for other in others)]
    named = [job for record in (guide.machine, *guide.library.cautions.values()) for job in _named(guide, record)]
    return (*found, *sorted(_with_blocks(guide, named))) if named else tuple(found)


def _named(guide: Guide, record: object) -> Iterator[Job]:
    """Yield the jobs that the texts of a record refer to."""
    for _, said in said_in(record) if record is not None else ():
        for reference in references(said):
            key = reference.name if reference.kind == "job" else reference.of
            if key is not None and key in guide.jobs:
                yield guide.jobs[key]


def _with_blocks(guide: Guide, sequences: Iterable[Sequence]) -> set[str]:
    """Return the files of jobs and blocks, and of the blocks that they do."""
    waiting, found = list(sequences), set[str]()
    while waiting:
        sequence = waiting.pop()
        found.add(sequence.path)
        for step in sequence.steps():
            for ref in step.things if isinstance(step.action, Do | Reverse) else ():
                block = guide.library.blocks.get(ref.name)
                if block is not None and block.path not in found:
                    waiting.append(block)
    return found


def files_of_job(guide: Guide, job: Sequence | None) -> list[str]:
    """Return the files that a job's page depends on: those of every page, its blocks, its chain, jobs that it names."""
    if job is None:
        return [*guide.files]
    # How the machine stands when it begins is for the jobs before it to say; who follows may say it alone.
    chains = _chains_of(guide)
    both = (key for key in guide.jobs if job.key in chains.behind(key) or key in chains.behind(job.key))
    chain = [guide.jobs[key] for key in both] if chains.later else []
    own = [job, *([job.later] if isinstance(job, Job) and job.later else [])]
    inside = _with_blocks(guide, own)
    blocks = [block for block in guide.library.blocks.values() if block.path in inside]
    named = [other for sequence in (*own, *blocks) for other in _named(guide, sequence)]
    found = (inside | _with_blocks(guide, [*chain, *named])) - {each.path for each in own}
    return [*dict.fromkeys((*files_of_every_page(guide), *sorted(found)))]


@lru_cache(maxsize=8)
def _chains_of(guide: Guide) -> Chains:
    return Chains(guide.jobs)


def _yaml_below(root: Path) -> frozenset[str]:
    return frozenset(name for name, _, _ in stamp_of(root) if name.endswith(".yaml"))


def leave_other_yaml(app: Sphinx, config: Config) -> None:
    """Exclude every YAML file that is neither a job nor a machine file of a guide.

    A project may hold any other YAML; naming this extension must not turn it into pages.
    """
    root = Path(app.srcdir)
    others: list[str] = []
    for folder, folders, files in os.walk(root):
        folders[:] = [name for name in folders if not name.startswith((".", "_build"))]
        for name in files:
            path = Path(folder) / name
            if path.suffix == ".yaml" and not is_page(path):
                others.append(_SIGN.sub(_as_it_is, path.relative_to(root).as_posix()))
    config.exclude_patterns = Excluded(config.exclude_patterns, others)


_SIGN = re.compile(r"[*?[]")
"""What means something in a pattern, and nothing in the name of a file."""


def _as_it_is(found: re.Match[str]) -> str:
    # Python warns of a bracket that opens another.
    return r"[\[]" if found[0] == "[" else f"[{found[0]}]"


class Excluded(list[str]):
    """The project's own patterns of what is no page, with those of files that are none.

    Sphinx reads all pages anew when the setting is not what it was. It is, as long as the project's own patterns are:
    a file more or less of any YAML touches no page.
    """

    def __init__(self, own: Iterable[str], others: Iterable[str] = ()) -> None:
        self.own = list(own)
        super().__init__([*self.own, *others])

    def __eq__(self, other: object) -> bool:
        return self.own == (other.own if isinstance(other, Excluded) else other)

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = None
