"""What a job of a chain found so and never puts back: told once, and not where the job before it has a fault."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from collections.abc import Set as SetABC

from putback.checks.engine.form import Fault, Group
from putback.checks.engine.known import KnownCheck
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.source.grammar import number as in_words
from putback.source.span import Span

Found = tuple[KnownCheck, Fault]


def handed_over(
    found: list[Found], left_out: SetABC[int], opened: Opened, files: Callable[[Iterable[Found]], set[str]]
) -> tuple[list[Found], set[int]]:
    """Return faults with those of one handing over made one, and the numbers of those to leave out.

    `files` returns the files that some faults point at.
    """
    after = {
        book.sequence.after.span: book
        for book in opened.books
        if isinstance(book.sequence, Job) and book.sequence.after and book.earlier is not None
    }
    ends: dict[Span, list[int]] = {}
    for at, (check, fault) in enumerate(found):
        if fault.span in after and at not in left_out and check.group is Group.CLOSING:
            ends.setdefault(fault.span, []).append(at)
    if not ends:
        return found, set()
    told = {at for numbers in ends.values() for at in numbers}
    wrong = files(each for at, each in enumerate(found) if at not in left_out | told)
    changed, gone = list(found), set[int]()
    for span, numbers in ends.items():
        if not wrong.isdisjoint(_before(after[span])):
            gone.update(numbers)
        elif len(numbers) > 1:
            changed[numbers[0]] = _one([found[at] for at in numbers], opened)
            gone.update(numbers[1:])
    return changed, gone


def _one(faults: list[Found], opened: Opened) -> Found:
    """Return the first of several, for the variants of all: one step that is lost mostly is after them."""
    check, first = faults[0]
    variants = first.variants
    for _, fault in faults[1:]:
        if variants is None or fault.variants is None or opened.graph is None:
            variants = None
            break
        variants = opened.graph.space.either(variants, fault.variants)
    others = len(faults) - 1
    more = f"; {in_words(others)} {'other' if others == 1 else 'others'} that the job before leaves so"
    return check, first._replace(message=f"{first.message}{more}", variants=variants)


def _before(book: Book) -> Iterator[str]:
    """Yield the files of the jobs before one in its chain."""
    earlier = book.earlier
    while earlier is not None:
        yield earlier.sequence.path
        earlier = earlier.earlier
