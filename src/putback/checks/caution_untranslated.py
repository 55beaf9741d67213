"""A safety message is not translated, has changed since it was, or is only copied.

A mechanic who reads German steps takes the one English sentence among them for unimportant, or cannot read it. A
translation of what the message was before may warn of the wrong thing.

Translate it in the catalogue, and delete the mark `fuzzy` when the translation says what the text says now. Where
the catalogue does not have the message, `putback translate` adds it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.translation.state import translations_of

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True

FAILS = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
               ^^^^^^^^^^^^^^^^^^^^^^^^^^ translations/de.po does not have this safety message
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
# translations/de.po
msgctxt "cautions.running-engine.hazard"
msgid "Belts turn while the engine runs."
msgstr ""
       ^^ a safety message is not translated: 'Belts turn while the engine runs.'

#, fuzzy
#| msgid "Keep hands away."
msgctxt "cautions.running-engine.avoid"
msgid "Keep hands away from the belts."
msgstr "Hände weghalten."
       ^^^^^^^^^^^^^^^^^^ a safety message has changed since it was translated: 'Keep hands away from the belts.'
"""

PASSES = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
# translations/de.po
msgctxt "cautions.running-engine.hazard"
msgid "Belts turn while the engine runs."
msgstr "Riemen laufen um, solange der Motor läuft."

msgctxt "cautions.running-engine.consequence"
msgid "They can tear off fingers."
msgstr "Sie können Finger abreißen."

msgctxt "cautions.running-engine.avoid"
msgid "Keep hands away from the belts."
msgstr "Hände von den Riemen fernhalten."
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield parts of safety messages that cannot be read in a language of the guide."""
    for translation in translations_of(opened.guide):
        for silent in () if translation.faults else translation.silent:
            yield Fault(silent.span, silent.message)
