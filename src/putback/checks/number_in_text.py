"""A text refers to a step, a job or a figure by its number.

Numbers change with every step that is added, and with the variant that the manual is printed for. The text then sends
the reader to the wrong step.

Give the step a `name`, and refer to it by that: `{step drain-oil}` is printed as its number.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.unknown_reference import texts_of
from putback.ledger.opened import Opened
from putback.prose.markdown import read_page
from putback.prose.pages import Passage, passage_of
from putback.prose.references import bare_numbers
from putback.source.finding import Level
from putback.source.quoting import quote

LEVEL = Level.ADVICE
GROUP = Group.WORDS

FAILS = """
steps:
  - inspect: belt
    for: cracks
    otherwise:
      - stop: Fit a new belt. Then go on, see step 4.
                                              ^^^^^^ 'step 4' is a number that will change
"""

PASSES = """
steps:
  - inspect: belt
    for: cracks
    name: look-at-belt
    otherwise:
      - stop: Fit a new belt. Then go on, see {step look-at-belt}.
"""

_HINTS = {
    "step": ("give the step a 'name', and write '{step NAME}'", "write '{putback:step}`NAME of JOB`'"),
    "job": ("write '{job NAME}', with the name of its file", "write '{putback:job}`NAME`'"),
    "fig": ("write '{figure FILE}', with the name of the picture's file", "write '{putback:figure}`FILE of JOB`'"),
}


def find(opened: Opened) -> Iterator[Fault]:
    """Yield numbers of steps, jobs and figures in texts of jobs, blocks, the machine, safety messages, and on pages."""
    for field, said, _ in texts_of(opened):
        if field not in ("limit", "found", "name", "title") and any(bare_numbers(said)):
            yield from _told(passage_of(said), on_page=False)
    for path, page in opened.guide.pages.items():
        if any(bare_numbers(page)):
            for passage in read_page(path, page).passages:
                yield from _told(passage, on_page=True)


def _told(passage: Passage, *, on_page: bool) -> Iterator[Fault]:
    for start, end in bare_numbers(passage.text):
        words = passage.text[start:end]
        hint = next(hints[on_page] for word, hints in _HINTS.items() if words.lower().startswith(word))
        message = f"{quote(words)} is a number that will change"
        yield Fault(passage.span(start, end), message, hint=hint)
