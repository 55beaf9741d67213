"""A catalogue of translations cannot be read, or has a text twice.

What comes after a fault in it is not known: a safety message may be there that nobody sees. Which of two translations
of one text is right, nobody can tell.

Correct the line. A program for translators, or `msgfmt --check`, writes and checks the form of gettext. When the old
file is lost, `putback translate` writes a new one.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.translation.state import translations_of

LEVEL = Level.ERROR
GROUP = Group.READING
INJURES = True

FAILS = """
# translations/de.po
msgctxt "machine.name"
msgid "Bench pump"
msgstr "Prüfstandspumpe
       ^ this text has no quote at its end
"""

PASSES = """
# cautions.yaml absent
# translations/de.po
msgctxt "machine.name"
msgid "Bench pump"
msgstr "Prüfstandspumpe"
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what is wrong with the catalogues of a guide."""
    for translation in translations_of(opened.guide):
        for fault in translation.faults:
            yield Fault(fault.span, fault.message, hint=fault.hint)
