"""A page of prose: its passages and blocks, each at its place, and what it says of numbers."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from putback.model.build_job import build_job
from putback.model.job import Job
from putback.prose.aims import sentences
from putback.prose.blocks import blocks_of, form_of, keeps_form, retold
from putback.prose.columns import may_have_columns, wrong_cells
from putback.prose.contexts import on_page, roughly
from putback.prose.deeds import deeds
from putback.prose.hands import left_hand_in, ways_in
from putback.prose.markdown import inline_marks, page_may_state, read_page
from putback.prose.pages import alternatives
from putback.prose.pairs import wrong_pairs
from putback.prose.references import bare_numbers, broken_references, references, roles
from putback.prose.stated_amounts import amounts_in
from putback.prose.stated_intervals import wrong_intervals
from putback.prose.statements import torques
from putback.source.load import Mapping, load_text
from putback.translation.judging import amounts
from tests.fuzz.targets.promises import as_text, hold, hold_place, hold_words

NAME = "page.md"


def attempt(data: bytes) -> str:
    """Read a page in every way in which one is read."""
    page = as_text(data)
    prose = read_page(NAME, page)
    told = [str(page_may_state(page)), str(may_have_columns(page)), *map(repr, roles(page)), *form_of(page)]
    told += [repr(context.text) for context in roughly(page)]
    told += [repr(context.text) for context in on_page(NAME, page)]
    passages = [*prose.passages, *alternatives(NAME, page), *(cell for row in prose.rows for cell in row.cells)]
    for passage in passages:
        text = passage.text
        for start, end in (*_ranges(text), (0, len(text))):
            hold(0 <= start <= end <= len(text), "offsets outside their text", f"{start} {end} {text!r}")
            if start < end:
                hold_place("a passage", passage.span(start, end), page)
        told += [repr(text), repr([*deeds(text)]), repr(amounts(text)), repr([*inline_marks(text)])]
    for row in prose.rows:
        for passage, pair in wrong_cells(row):
            hold_place("a cell", passage.span(0, len(passage.text)), page)
            hold_words("a cell", pair.message, page)
    told += _retold(page)
    return "\n".join(told)


@cache
def _jobs() -> dict[str, Job]:
    """Return a job that a page may say when to do."""
    root = load_text("job: Renew the oil\ninterval: {hours: 100, months: 6 .. 12}\nsteps: [drain: oil]\n", NAME).root
    assert isinstance(root, Mapping)
    return {"oil": build_job(root, NAME)[0]}


def _ranges(text: str) -> Iterator[tuple[int, int]]:
    """Yield the offsets of all that is found in a text."""
    for sentence in sentences(text):
        yield sentence.start, sentence.end
    for statement in torques(text):
        yield statement.start, statement.end
    for pair in wrong_pairs(text):
        hold_words("a pair", pair.message, text)
        yield pair.start, pair.end
    for amount in amounts_in(text):
        yield amount.start, amount.end
    for reference in references(text):
        yield from ((reference.start, reference.end), reference.at, reference.of_at)
    for _, start, end in broken_references(text):
        yield start, end
    yield from bare_numbers(text)
    for way in ways_in(text):
        yield way.start, way.end
    if found := left_hand_in(text):
        yield found
    for wrong in wrong_intervals(text, _jobs()):
        yield wrong.start, wrong.end


def _retold(page: str) -> Iterator[str]:
    """Yield a page's blocks, and the page in other words: it must be built as before."""
    blocks = blocks_of(NAME, page)
    for block in blocks:
        hold_place("a block", block.span, page)
        hold(bool(block.text.strip()), "a block without words", block)
        yield repr(block)
        yield str(keeps_form(page, block, "other *words* | here"))
    hold(retold(NAME, page, {}) == page, "a page that nobody translated is another")
    other = retold(NAME, page, {block.text: "other words" for block in blocks})
    hold(form_of(other) == form_of(page), "a page in other words is built in another way", f"{page!r} {other!r}")
    yield other
