"""A caution does not say what the danger is, what it can do, or how to avoid it.

"Be careful" tells nobody where to put their hands. A message that says nothing is skipped, and so is the next one. A
safety message has three parts (ANSI Z535.6): the hazard, the consequence, and how to avoid it.

Name what causes the harm, the injury or damage that it does, and what to do with hands, tools and controls instead.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.messages import UsedMessage, shown_cautions
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.quoting import SENTENCE, quote

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True

FAILS = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can cause serious injury.
               ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ the consequence says nothing: 'They can cause serious injury.'
  avoid: [Keep hands away from the belts., Be careful.]
                                           ^^^^^^^^^^^ the way to avoid it says nothing: 'Be careful.'
  covers: [running-engine]
"""

PASSES = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
"""

PARTS = {"hazard": "the hazard", "consequence": "the consequence", "avoid": "the way to avoid it"}
"""The parts of a safety message, by their keys in the file."""

_ASKED = {"hazard": "what the danger is", "consequence": "what it can do", "avoid": "how to avoid it"}

_EMPTY = frozenset(
    """
    a an the this that these those it its they them there here you your yourself and or of in to for with by from at on
    is are be being been can could may might must shall should will would do does not always all any every very most
    extremely extreme great greatest utmost high highly potentially possible possibly personal bodily physical
    serious seriously severe severely minor moderate grave bad badly proper properly appropriate appropriately suitable
    usual normal general necessary required relevant due applicable special particular extra
    if when while during before after operation operations use using used work working works handle handling job
    task procedure step part item area thing things people person persons anyone somebody someone operator user
    careful carefully cautious cautiously care caution cautions attention attentive alert aware watchful mindful
    danger dangers dangerous dangerously hazard hazards hazardous unsafe risk risks risky warning threat threaten
    safe safely safety injury injuries injure injures injured injuring hurt hurts harm harms harmful accident accidents
    damage damages cause causes lead leads result results take takes pay pays watch out mind beware exercise stay keep
    follow follows observe respect obey heed read know rule rules regulation regulations instruction instructions
    guideline guidelines precaution precautions measure measures practice practices manual sense common avoid avoids
    prevent prevents protect please note think
    """.split()  # noqa: SIM905  a list of that many words cannot be read
)
"""Words that name no thing, no wound and no deed. A sentence of these only says nothing."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield parts of cautions that are missing, empty of content, or the same sentence twice."""
    for shown in shown_cautions(opened.guide):
        yield from _missing(shown)
        said: dict[str, str] = {}
        for part, sentence in shown.message.sentences:
            words = " ".join(re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*|\d+", sentence.lower()))
            wrong = None
            if words in said:
                wrong = f"{PARTS[part]} says the same as {said[words]}: {quote(sentence, SENTENCE)}"
            elif opened.guide.is_english and says_nothing(words):
                wrong = f"{PARTS[part]} says nothing: {quote(sentence, SENTENCE)}"
            elif " " not in words:
                wrong = f"{PARTS[part]} is one word: {quote(sentence, SENTENCE)}"
            said.setdefault(words, PARTS[part] if part != "avoid" else "another way to avoid it")
            if wrong:
                for span in shown.places(sentence.span):
                    yield Fault(span, wrong if shown.own else f"{shown.message.key}: {wrong}", shown.elsewhere)


def _missing(shown: UsedMessage) -> Iterator[Fault]:
    parts = {part for part, _ in shown.message.sentences}
    lost = [words for part, words in _ASKED.items() if part not in parts]
    for span in shown.places(None) if lost else ():
        yield Fault(span, f"{shown.message.key} does not say {listed(lost)}", shown.elsewhere)


def says_nothing(words: str) -> bool:
    """Tell whether none of some English words, in lower case, names a thing, a wound or a deed."""
    return all(word in _EMPTY for word in words.split())
