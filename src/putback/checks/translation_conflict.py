"""A translation says another number, unit, part number or reference than its text, or another signal word.

Who works by the translation never sees the text that lint has checked. A digit that is lost on the way breaks a bolt in
one language only.

Write the numbers as the text has them, as digits and with the same units. Keep part numbers, references, links and code
as they are. Write no signal word: Putback prints it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Also, Level
from putback.translation.state import translations_of

LEVEL = Level.ERROR
GROUP = Group.NUMBERS
INJURES = True

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks of more than 12 mm.
# cautions.yaml absent
# translations/de.po
msgctxt "jobs.example.inspect-belt-guard.note"
msgid "Look for cracks of more than 12 mm."
msgstr "Auf Risse von mehr als 1,2 mm prüfen."
       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ the text says '12 mm', but the translation '1,2 mm'
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks of more than 1.2 mm.
# cautions.yaml absent
# translations/de.po
msgctxt "jobs.example.inspect-belt-guard.note"
msgid "Look for cracks of more than 1.2 mm."
msgstr "Auf Risse von mehr als 1,2 mm prüfen."
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield translations that do not keep what their text says."""
    for translation in translations_of(opened.guide):
        for conflict in translation.conflicts:
            yield Fault(conflict.span, conflict.message, (Also(conflict.wording.spans[0], "the text"),))
