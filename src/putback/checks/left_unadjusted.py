"""A setting is disturbed, and never adjusted or measured afterwards.

Taking a cylinder head off loses the valve clearances; a belt that was off is too slack or too tight. Putting everything
back does not restore the setting. The machine file lists under `settings` what disturbs it.

Once everything that disturbs it is back, add an `adjust` step, or a `measure` step with the adjustment under
`otherwise`. A block may leave a setting disturbed if it lists it under `ends-with`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end
from putback.ledger import Book, Entry
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.disturbing import disturbers_of, last_back
from putback.ledger.opened import Opened
from putback.mending.sites import at_line, own_step
from putback.model.setting import Setting
from putback.model.states import SettingState
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import VariantSet

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - loosen: jockey-bolt
            ^^^^^^^^^^^ belt deflection is disturbed here, and never adjusted or measured afterwards
  - tighten: jockey-bolt
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: jockey-bolt
  - remove: jockey-pulley
  - install: jockey-pulley
  - install: jockey-bolt
  - adjust: belt-deflection
  - tighten: jockey-bolt
  - measure: belt-deflection
    otherwise:
      - stop: The belt is too long. Fit another one.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield settings that are disturbed at the end, with all that disturbs them back; those of one step together."""
    for book in opened.books:
        together: dict[tuple[Span, Entry | None, VariantSet, VariantSet], list[Unfinished]] = {}
        for left in unfinished(book):
            if isinstance(left.state, SettingState):
                together.setdefault((left.span, left.entry, left.variants, left.among), []).append(left)
        for alike in together.values():
            yield _fault(book, alike)


def _fault(book: Book, alike: list[Unfinished]) -> Fault:
    settings = [left.thing for left in alike if isinstance(left.thing, Setting)]
    first, be = alike[0], "is" if len(settings) == 1 else "are"
    how = f"{be} disturbed here, and" if first.entry else f"{be} found disturbed, and"
    message = f"{listed([setting.name for setting in settings])} {how} never adjusted or measured afterwards"
    root = at_end(book, ",".join(left.key for left in alike), first.entry)
    return Fault(first.span, message, first.ways, _hint(book, first, settings), first.variants, first.among, root)


def _hint(book: Book, left: Unfinished, settings: list[Setting]) -> str:
    disturbers = tuple(disturber for setting in settings for disturber in disturbers_of(book.graph, setting))
    last = last_back(book, disturbers, left.variants)
    if last is None or (left.entry and last.index < left.entry.index):
        last = left.entry
    what = " and ".join(f"'measure: {setting.key}' with an 'otherwise'" for setting in settings)
    return f"add {what}{f' after {at_line(own_step(last), left.span)}' if last else ''}"
