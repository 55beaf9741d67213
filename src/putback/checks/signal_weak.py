"""A caution has a signal word that does not fit its hazards: too weak, or, for damage to property, too strong.

The signal word says how bad it can be before anybody reads a sentence. Danger: death or serious injury will follow;
warning: it could; caution: minor or moderate injury could; notice: damage to property, and no injury. So a reader who
sees 'notice' does not expect an injury, and one who finds 'warning' over a torn impeller stops looking.

Use the word for the most serious hazard that the caution covers. If that word is too strong, correct `signal-at-least`
in `hazards.yaml`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.messages import shown_cautions
from putback.ledger.opened import Opened
from putback.model.library import Hazard, Library, SafetyMessage
from putback.model.terms import Signal
from putback.source.finding import Also, Level
from putback.source.grammar import listed

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True

FAILS = """
# cautions.yaml
turning-belt:
  signal: caution
          ^^^^^^^ turning-belt says 'caution'; running engine needs 'warning' at least
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
# jobs/example.yaml
steps:
  - caution: turning-belt
  - run: engine
    for: 5 min
"""

PASSES = """
# cautions.yaml
turning-belt:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
# jobs/example.yaml
steps:
  - caution: turning-belt
  - run: engine
    for: 5 min
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield cautions whose word is weaker than a hazard needs, or stronger than damage to property may have."""
    for shown in shown_cautions(opened.guide):
        message = shown.message
        wrong = _wrong(message, opened.guide.library)
        if wrong:
            words, hazards = wrong
            also = tuple(Also(hazard.span, "the hazard is described here") for hazard in hazards)
            for span in shown.places(message.signal_span):
                yield Fault(span, f"{message.key} says '{message.signal}'; {words}", (*also, *shown.elsewhere))


def _wrong(message: SafetyMessage, library: Library) -> tuple[str, list[Hazard]] | None:
    covered = [library.hazards[ref.name] for ref in message.covers if ref.name in library.hazards]
    gravest = list(Signal)
    least = min((hazard.signal_at_least for hazard in covered), key=gravest.index, default=message.signal)
    if gravest.index(least) < gravest.index(message.signal):
        grave = [hazard for hazard in covered if hazard.signal_at_least is least]
        need = "needs" if len(grave) == 1 else "need"
        return f"{listed([hazard.name for hazard in grave])} {need} '{least}' at least", grave
    whole = len(covered) == len(message.covers) and bool(covered)
    if whole and least is Signal.NOTICE and message.signal is not Signal.NOTICE:
        names = listed([hazard.name for hazard in covered])
        return f"{names} can only damage property: that is a 'notice'", covered
    return None
