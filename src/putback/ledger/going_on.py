"""What is done when an answer is bad, and the job goes on as if it were good: nothing mended, and no reason given.

Somebody who only looks, is told something, makes it safe or lets the engine run once more has mended nothing. A step
that acts does, or a note that says what to do or why one may go on, a `because`, a `stop`, a `back-to`, and the same
question once more.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from putback.model.job import Block, Step
from putback.model.said import source_of
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import BackTo, Do, Reverse
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.lifting import Lift
from putback.model.verbs.marking import Mark
from putback.model.verbs.telling import Caution, Note, Stop, Wait
from putback.source.late import Late

_TELLS = Late(
    r"^(?:the|an?|this|that|these|those|it|its|they|there|what|here|some|one|both|all|no|such|nothing|something|"
    r"somebody|nobody|note|record|log|remember|write (?:it|them|this|the value|both|all)\b.*\bdown)\b",
    re.IGNORECASE,
)
"""How a sentence begins that says what is so, and not what to do: `The seal is worn.`, `Note the value.`"""

_ALLOWS = Late(
    r"\b(?:may|can|could|normal|usual|harmless|no harm|no matter|enough|allowed|tolerable|goes? on|continue|until|"
    r"later|next|again|soon|before|after|needs?|needed|must|should|wants?|waits?|new|renewed|replaced?|calls? for)\b",
    re.IGNORECASE,
)
"""Words of a sentence that says what to do after all, or why one may go on: `One turn more is needed.`"""


def gone_on(step: Step, blocks: Mapping[str, Block], *, english: bool) -> Iterator[Step]:
    """Yield the last step of each way out of a question, after which the job goes on with what was bad as it was."""
    for branch in (step.otherwise, *(outcome.steps for outcome in step.outcomes)):
        if branch and not _WayOn(step, blocks, english).helps(branch, frozenset()):
            yield branch[-1]


class _WayOn(NamedTuple):
    """A way out of a question."""

    asked: Step
    """The question."""
    blocks: Mapping[str, Block]
    """All blocks."""
    english: bool
    """Whether notes can be read."""

    def helps(self, steps: Iterable[Step], doing: frozenset[str]) -> bool:
        """Tell whether one of some steps mends, ends or explains something, or asks the same once more."""
        return any(self._one_helps(step, doing) for step in steps)

    def _one_helps(self, step: Step, doing: frozenset[str]) -> bool:
        if not doing and (step.because or (step.note and not _only_tells(source_of(step.note), english=self.english))):
            return True
        match step.action:
            case Note(words=words):
                return not doing and not _only_tells(words, english=self.english)
            case Inspect():
                return bool(step.inner) and (self._alike(step) or any(self._mends(each, doing) for each in step.inner))
            case Wait(until=until):
                return until is not None
            case Set(to=to):
                # An engine that is stopped, a tap that is closed, is safe, and no better.
                return self._alike(step) and (to.name in _said(self.asked) or isinstance(self.asked.action, Inspect))
            case Place() | TakeAway():
                return self._alike(step)
            case Do(things=things) | Reverse(things=things):
                named = [ref.name for ref in things if ref.name not in doing]
                inner = [each for name in named if name in self.blocks for each in self.blocks[name].steps()]
                return any(name not in self.blocks for name in named) or self.helps(inner, doing | {*named})
            case Caution() | Lift() | Run() | Mark():
                return False
            case _:
                return True

    def _mends(self, step: Step, doing: frozenset[str]) -> bool:
        """Tell whether what hangs on a question below does something."""
        return not isinstance(step.action, Stop | BackTo | Note) and self._one_helps(step, doing)

    def _alike(self, step: Step) -> bool:
        """Tell whether a step is about what was asked: the same thing, or some of the same words."""
        mine, other = (_words(" ".join(ref.name for ref in each.things)) for each in (self.asked, step))
        return bool({word for word in mine & other if len(word) > 3})


def _words(text: str) -> set[str]:
    return set(text.lower().replace("-", " ").replace(",", " ").split())


def _said(step: Step) -> set[str]:
    """Return the words of what must be so."""
    limit = step.action.limit if isinstance(step.action, Measure | Verify) else None
    return _words(f"{source_of(limit.text) if limit else ''} {' '.join(ref.name for ref in step.things)}")


def _only_tells(text: str, *, english: bool) -> bool:
    """Tell whether a text says what is so, and neither what to do nor why one may go on; only English is read."""
    sentences = [each.strip() for each in text.replace("; ", ". ").replace(": ", ". ").split(". ")]
    return english and not _ALLOWS.search(text) and all(_TELLS.match(each) for each in sentences)
