"""A step needs two people at once, but the job is for one.

One holds a lever and the other watches the outlet; one takes the weight while the other draws the bolts. Anyone working
alone finds out with the engine running, or with the weight in their arms.

Write `people: 2` in the job, so that it is printed before the work begins; or change the step so that one person can do
it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book
from putback.ledger.hazards import caution_at
from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.model.said import Said
from putback.model.verbs.acting import Act
from putback.model.verbs.telling import Note
from putback.prose.aims import said_in_sentences
from putback.source.finding import Also, Level
from putback.source.late import Late
from putback.source.quoting import SENTENCE, quote
from putback.source.span import Span

LEVEL = Level.WARNING
GROUP = Group.DANGERS

FAILS = """
steps:
  - remove: guard-bolts
    note: Let a helper hold it.
          ^^^^^^^^^^^^^^^^^^^^^ this takes two people, but the job is for one: 'Let a helper hold it.'
  - install: guard-bolts
  - tighten: guard-bolts
  - {check: belt guard, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# jobs/example.yaml
job: Look at the guard bolts
people: 2
steps:
  - remove: guard-bolts
    note: Let a helper hold it.
  - install: guard-bolts
  - tighten: guard-bolts
  - {check: belt guard, limit: does not rattle, otherwise: [{stop: Do the job again.}]}
"""

_SECOND = (
    r"(?:a second person|a second pair of hands|another person|some(?:body|one) else"
    r"|(?:a|an|your|the) (?:helper|assistant)|two people|two persons)(?!')"
)
_FRIEND = r"(?:somebody|someone|(?:a|your) (?:friend|mate|colleague))"
_DOES = (
    r"(?:hold|keep|press|push|pull|turn|crank|steady|lift|lower|guide|watch|stand|sit|steer|work|operate|squeeze"
    r"|pump)"
)
"""What one does for the other, meanwhile."""
_TWO = Late(
    rf"\b(?:let|have|ask|get|with|needs?|takes?|wants?|calls? for) {_SECOND}\b"
    rf"|\b{_SECOND} (?:{_DOES}s?|watches|presses|pushes|steadies|reads?|looks?|must)\b"
    rf"|\b(?:let|have) {_FRIEND} {_DOES}\b|\b(?:get|ask) {_FRIEND} to {_DOES}\b"
    r"|\bone of you\b[^.]{1,90}\bthe other\b|\bthis (?:is|takes|wants|needs) (?:a job for )?two[.;,]"
    r"|\b(?:keep|leave|have|let|put) one person (?:at|by|beside|near)\b"
    r"|\bthe second person\b"
    r"|\bone person\b[^.]{1,90}\b(?:another|the other|a second|one (?:at|holds|watches|looks|stays))\b"
)
"""Words by which two people are wanted at once."""
_PERHAPS = Late(
    r"\b(?:if|when|whenever|unless|where|while nobody|better|easier|may|can|could|or|without|never|no|not|only)\b"
)
"""Words that leave it to the reader, or say it of a case that may not come."""
_HINTS = ("person", "people", "else", "help", "hands", "some", "assist", "friend", "mate", "colleague", "other", "two")


def find(opened: Opened) -> Iterator[Fault]:
    """Yield sentences that want a second person, of steps and of messages that they show, in jobs for one."""
    for book in opened.books if opened.guide.is_english else ():
        job = book.sequence
        if isinstance(job, Job) and (job.people or 1) < 2:
            told = set[Span]()
            for said, place in _said(book):
                words = _wanted(said)
                if words is not None and place not in told:
                    told.add(place)
                    message = f"this takes two people, but the job is for one: {quote(words, SENTENCE)}"
                    yield Fault(place, message, (Also(job.span, "the job"),), "give the job 'people: 2'")


def _said(book: Book) -> Iterator[tuple[str, Span]]:
    """Yield what steps say in their author's words, and what the messages say that they show, each with its place."""
    for entry in book.entries:
        step, shown = entry.step, caution_at(book, entry)
        action = step.action
        words = (step.text, step.note, action.words if isinstance(action, Note | Act) else None)
        yield from ((text, text.span) for text in words if isinstance(text, Said))
        if shown is not None and entry.target is not None:
            yield from ((text, entry.target.span) for _, text in shown.sentences)


def _wanted(text: str) -> str | None:
    """Return the sentence of a text that wants a second person, whatever comes; None for none."""
    if not any(word in text for word in _HINTS):
        return None
    for sentence in said_in_sentences(text):
        words = sentence.lower()
        if _TWO.search(words) and not _PERHAPS.search(words):
            return sentence
    return None
