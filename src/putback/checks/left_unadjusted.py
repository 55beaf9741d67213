"""A setting is disturbed, and never adjusted or measured after that.

Whoever takes a cylinder head off loses the valve clearances; a belt that was off is too slack or too tight. Putting
everything back does not bring the old setting back. The machine file says under `settings` what disturbs it.

Add a `measure` step with the way to adjust it under `otherwise`, or an `adjust` step, once all that disturbs it is back.
A block may leave a setting disturbed when it lists it under `ends-with`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end
from putback.ledger import Book
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.disturbing import last_back, said
from putback.ledger.opened import Opened
from putback.model.setting import Setting
from putback.model.states import SettingState
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - loosen: jockey-bolt
            ^^^^^^^^^^^ belt deflection is disturbed here, and never adjusted or measured after that
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
    """Yield settings that are disturbed at the end, with all that disturbs them in place."""
    for book in opened.books:
        for left in unfinished(book):
            if isinstance(left.thing, Setting) and isinstance(left.state, SettingState):
                how = "is disturbed here, and" if left.entry else "is found disturbed, and"
                message = f"{left.thing.name} {how} never adjusted or measured after that"
                root = at_end(book, left.key, left.entry)
                yield Fault(
                    left.span, message, left.ways, _hint(book, left, left.thing), left.variants, left.among, root
                )


def _hint(book: Book, left: Unfinished, setting: Setting) -> str:
    last = last_back(book, setting.disturbers, left.variants)
    if last is None or (left.entry and last.index < left.entry.index):
        last = left.entry
    behind = f" behind {said(last)}" if last else ""
    return f"add 'measure: {setting.key}' with an 'otherwise'{behind}"
