"""How far a check of a guide got: what was looked at, and what was not."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import PurePath

from putback.guide.library import FILES
from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.source.grammar import counted_word, listed


@dataclass(frozen=True, slots=True)
class Extent:
    """What was looked at of a guide, or of some files of it."""

    jobs: int = 0
    """Jobs that were walked to their end, in at least one variant."""
    jobs_there: int = 0
    """Jobs that there are, those that could not be read included."""
    steps: int = 0
    """Steps in the jobs that were walked, blocks written out."""
    unchecked: tuple[str, ...] = ()
    """What could not be looked at."""
    left_out: tuple[str, ...] = ()
    """What was not asked for."""
    walked: tuple[str, ...] = ()
    """The files of the jobs that were walked."""
    not_walked: tuple[str, ...] = ()
    """The files of the jobs that were not, as far as they are known."""


def extent_of(opened: Opened, wanted: Collection[str] | None = None, unfinished: Collection[str] = ()) -> Extent:
    """Return how far the check of a guide got.

    `wanted` are the files that were asked for, as shown (None: all), `unfinished` the checks that
    could not follow all variants.
    """
    guide = opened.guide
    sequences = {sequence.path for sequence in guide.sequences()}
    jobs = [job for job in guide.jobs.values() if wanted is None or job.path in wanted]
    lost = () if wanted is not None else [shown_path(guide.root / "jobs" / f"{name}.yaml") for name in guide.lost_jobs]
    walked = {book.sequence.path: book for book in opened.books if book.is_finished and not _is_guessed(book, guide)}
    done = [walked[job.path] for job in jobs if job.path in walked]
    left_out = list[str]()
    if wanted is not None:
        read = {*guide.files, *guide.pages, *guide.unread}
        lost = sorted(path for path in wanted if path in read and path not in sequences and _is_job(opened, path))
        left_out += [f"{path}, which is not read" for path in sorted(set(wanted) - read)]
        left_out.append(f"the other files of {guide.shown}")
    if opened.only:
        chosen = listed([f"{option} = {value}" for option, value in opened.only])
        left_out.append(f"variants other than {chosen}")
    there = len(jobs) + len(lost)
    unchecked = [*_missing(len(done), there, "job"), *_not_read(opened, walked, wanted)]
    if unfinished:
        unchecked.append(listed([f"all of {check}" for check in unfinished]))
    unchecked += _broken(opened)
    steps = sum(not entry.again for book in done for entry in book.entries)
    walked_paths = tuple(book.sequence.path for book in done)
    rest = [job.path for job in jobs if job.path not in walked]
    return Extent(len(done), there, steps, tuple(unchecked), tuple(left_out), walked_paths, (*rest, *lost))


def _is_guessed(book: Book, guide: Guide) -> bool:
    """Tell whether a job or block was read as it was meant, and not as it is written: then it is proved no more."""
    files = {book.sequence.path, book.graph.machine.path, *(entry.step.key.path for entry in book.entries)}
    return bool(guide.mended) and not guide.mended.isdisjoint(files)


def _missing(found: int, there: int, word: str) -> Iterator[str]:
    if found < there:
        yield f"{there - found} of {there} {word}{'' if there == 1 else 's'}"


def _is_job(opened: Opened, path: str) -> bool:
    return path.startswith(f"{shown_path(opened.guide.root / 'jobs')}/")


def _not_read(opened: Opened, walked: dict[str, Book], wanted: Collection[str] | None) -> Iterator[str]:
    """Yield what else could not be looked at: blocks, pages, files of the library."""
    guide = opened.guide
    # What takes things is looked at in each job that does it.
    own = [block for block in guide.blocks.values() if not block.takes]
    blocks = [block for block in own if wanted is None or block.path in wanted]
    lost = guide.lost_blocks if wanted is None else ()
    done = [block for block in blocks if block.path in walked]
    yield from _missing(len(done), len(blocks) + len(lost), "block")
    if wanted is None:
        unread_pages = [path for path in guide.unread if path.endswith(".md")]
        yield from _missing(len(guide.pages), len(guide.pages) + len(unread_pages), "page")
        if guide.cover is None or shown_path(guide.root / "guide.yaml") in guide.mended:
            yield f"what guide.yaml of {guide.shown} says"
        signs = shown_path(guide.root / "symptoms.yaml")
        if signs in guide.mended or any(fault.span.path == signs for fault in guide.faults):
            yield f"what symptoms.yaml of {guide.shown} says"
        pictures = sum(path.startswith(f"{shown_path(guide.images)}/") for path in guide.unread)
        if pictures:
            yield counted_word(pictures, "picture")
        for name in ("jobs", "images"):
            if shown_path(guide.root / name) in guide.unread:
                yield f"what is in {shown_path(guide.root / name)}"


def _broken(opened: Opened) -> Iterator[str]:
    """Yield which kinds of entries of the library are not all known."""
    guide = opened.guide
    files = {PurePath(path).stem for path in guide.mended} & set(FILES)
    found = guide.library.broken | {kind for kind, _ in guide.library.doubtful}
    kinds = sorted({f"{kind}s" for kind in found} | files)
    if kinds:
        yield f"what needs the library's {listed(kinds)}"
