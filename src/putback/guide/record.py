"""A guide, as it was read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from putback.guide.paths import shown_path
from putback.model.cover import Cover
from putback.model.job import Block, Job, Later, Sequence
from putback.model.library import Library
from putback.model.machine import Machine
from putback.model.sealed import seal
from putback.model.symptoms import Symptom
from putback.source.finding import Finding
from putback.source.intake import Disk, Store
from putback.trade.words import is_english


@dataclass(frozen=True, slots=True, eq=False)
class Guide:
    """One machine, its jobs and all that they call by name. Two readings of one folder are two guides."""

    root: Path
    """Its folder."""
    shown: str
    """The folder as the user would name it."""
    cover: Cover | None = None
    """What guide.yaml says; None when it could not be used."""
    machine: Machine | None = None
    """What is worked on; None when its file could not be used."""
    jobs: Mapping[str, Job] = field(default_factory=dict)
    """Its jobs, by the name of the file."""
    blocks: Mapping[str, Block] = field(default_factory=dict)
    """The guide's own blocks; `library.blocks` has these and the shared ones."""
    symptoms: Mapping[str, Symptom] = field(default_factory=dict)
    """Its symptom table: signs that something is wrong, by name."""
    library: Library = field(default_factory=Library)
    """What jobs call by name."""
    faults: tuple[Finding, ...] = ()
    """What was wrong with the files: all that was found before any check."""
    files: tuple[str, ...] = ()
    """Every file read, as shown."""
    pages: Mapping[str, str] = field(default_factory=dict)
    """The text of each prose page, as shown."""
    unread: frozenset[str] = frozenset()
    """Files and folders that could not be read at all, as shown."""
    mended: frozenset[str] = frozenset()
    """Files with misspelt words that were read as they were meant, as shown."""
    lost_jobs: tuple[str, ...] = ()
    """Names of jobs whose file is there and could not be used."""
    lost_blocks: tuple[str, ...] = ()
    """Names of the guide's own blocks whose file is there and could not be used."""
    store: Store = field(default_factory=Disk)
    """Where its files are."""
    catalogues: Mapping[str, str] = field(default_factory=dict)
    """The text of each file with translations, as shown."""
    source: Guide | None = None
    """Of a guide in another language: the guide as its author wrote it, which is the one that is proved."""
    words: Mapping[str, str] = field(default_factory=dict)
    """Of a guide in another language: names that are printed as words, and how that language says them."""

    def __post_init__(self) -> None:
        """Shut what could be written into."""
        seal(self, "jobs", "blocks", "symptoms", "pages", "catalogues", "words")

    @property
    def misses_jobs(self) -> bool:
        """Whether there are, or may be, jobs that could not be used."""
        return bool(self.lost_jobs) or shown_path(self.root / "jobs") in self.unread

    @property
    def is_english(self) -> bool:
        """Whether its prose is English, the only language whose words are read."""
        cover = (self.source or self).cover
        return is_english(cover.language if cover else None)

    @property
    def unreadable(self) -> bool:
        """Whether a file could not be read at all."""
        return bool(self.unread)

    def sequences(self) -> Iterator[Sequence]:
        """Yield the jobs, then the guide's own blocks, then the follow-ups of the jobs."""
        yield from self.jobs.values()
        yield from self.blocks.values()
        yield from self.laters()

    def laters(self) -> Iterator[Later]:
        """Yield the follow-ups of the jobs."""
        yield from (job.later for job in self.jobs.values() if job.later)

    @property
    def images(self) -> Path:
        """The folder of its pictures."""
        return self.root / "images"
