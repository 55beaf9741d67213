"""Where a value of each key is printed: as it stands, in words of its own, or not at all, for a reason."""

from __future__ import annotations

from collections.abc import Iterator
from fnmatch import fnmatchcase

from putback.ledger.opened import Opened
from putback.model.called import counted, named
from putback.model.machine import AnyThing, Control, Fastener
from putback.prose.references import references
from putback.source.grammar import number, plural
from putback.trade.words import said_by, side_of
from putback.units import QuantityError, parse_any, show
from putback.words import catalogue
from putback.words.english import English
from putback.words.english.built import built
from putback.words.english.checking import in_words
from putback.words.english.clauses import apart, done_first
from putback.words.english.sizes import drive_said
from putback.words.english.things import spaced
from putback.words.pieces import as_text
from putback.words.plain import Plain
from tests.print.scalars import Scalar

_ORDERS = "it orders the steps, and the ledger holds it; the page has the steps"
_HAZARDS = "it says when a safety message is due; the page has the message"

NOT_PRINTED = {
    "guide/language": "it chooses the words that are printed",
    "guide/units*": "it chooses the units that are printed",
    "job/supplies/*": "it is held against what the steps use, and that is printed",
    "guide/web": "it is on the sheet of a job alone, which tests of that hold",
    "*/waive/*": "it answers a check, and is for who maintains the guide",
    "machine/*/*/tags/*": _HAZARDS,
    "machine/stacks/*": _ORDERS,
    "machine/access-after/*": _ORDERS,
    "machine/results-in/*": _ORDERS,
    "machine/can-start/*": _ORDERS,
    "machine/*/*/needs/*": _ORDERS,
    "machine/*/*/releases-when": _ORDERS,
    "machine/controls/*/any-at-end": _ORDERS,
    "machine/controls/*/looks": "it is drawn",
    "machine/fasteners/*/layout*": "it is drawn, and numbers on a page would only be in the way",
    "machine/fasteners/*/front": "it is an arrow in the drawing",
    "machine/parts/*/shape": "it is drawn",
    "machine/fasteners/*/top": "it is an arrow in the drawing",
    "machine/fasteners/*/head": "the page has its name in words, and it is drawn",
    "machine/*/*/plural": "it is the name where there are several, and most things are one",
    "hazards/*/waste": "it stands at what is scrapped, and not at what goes back",
    "block/block": "a block is written out under the headings of the job",
    "block/sections/*/title": "a block is written out under the headings of the job",
    "block/own-page": "it gives the block a page of its own",
    "block/ends-with/*": _ORDERS,
    "block/begins-with/*": _ORDERS,
    "step*/name": "it is printed as the number of the step",
    "step*/figure/image": "it is the name of a file, and the picture is there",
    "step*/figure": "it is the name of a file, and the picture is there",
    "step*/figure/width": "it is the width at which the picture is printed",
    "step*/figure/crop/*": "it is the part of the picture that is printed",
    "step*/figure/callouts/*at*": "it is a place in the picture",
    "step*/figure/callouts/*/arrow": "it is an arrow in the picture",
    "step*/figure/callouts/*/circle": "it is a ring in the picture",
    "step*/do": "a block is written out",
    "step*/reverse": "a block is written out",
    "step*/with/*": "the sentences name the thing itself",
    "block/takes/*": "the sentences name the thing that it stands for",
    "step*/back-to": "it is printed as the number of the step",
    "step+text/*": "the author's own sentence stands for these; what it may not drop is the law of texts",
    "cautions/*/covers/*": _HAZARDS,
    "hazards/*/name": _HAZARDS,
    "hazards/*/ppe/*": "it stands in the message only where the hazard is there, which tests of the sheet hold",
    "hazards/*/signal-at-least": _HAZARDS,
    "hazards/*/verbs/*": _HAZARDS,
    "hazards/*/tags/*": _HAZARDS,
    "hazards/*/mass": _HAZARDS,
    "hazards/*/while/*": _HAZARDS,
    "hazards/*/safe-when/*": _HAZARDS,
    "hazards/*/not-worn/*": "the message that is about it says so in its own words, which a check holds",
    "hazards/*/licensed": "the block that opens a job says who may do it",
    "tools/*/drives*": "it finds the tool for a fastener, whose drive is printed",
    "consumables/*/tags/*": _HAZARDS,
    "tools/*/tags/*": _HAZARDS,
    "equipment/*/tags/*": _HAZARDS,
    "equipment/*/may-stay": _ORDERS,
    "equipment/*/lid": _ORDERS,
    "consumables/*/threads": "it gives the state of the threads that it goes on, which is printed with each torque",
}
"""What no page has, by the place of the value, and why."""

AS = {
    "machine/*/*/replace": "whenever",
    "machine/*/*/adjustable": "mark its position",
    "machine/parts/*/loosen-evenly": "it warps",
    "machine/*/*/guard": "nothing runs",
    "machine/settings/*/check-in-run": "check it during a run",
    "machine/parts/*/hangs": "only its fasteners hold it up",
    "machine/*/*/own-places": "goes back where it came from",
    "step/new": "new",
    "step/once-more": "once more",
}
"""How a page says what is only `true` or `always` in the file."""

PRINTED_BESIDE_TEXT = ("note", "because", "tool*", "time", "text", "when/*", "figure/alt", "figure/caption",
    "figure/callouts/*/text", "figure/callouts/*/thing", "figure/callouts/*/number",
)  # fmt: skip
"""What stands beside the author's own sentence whatever it says."""


def why_not(place: str) -> str | None:
    """Return why a value is not printed; None when it must be."""
    if any(fnmatchcase(place, f"step+text/{key}") for key in PRINTED_BESIDE_TEXT):
        return None
    return next((why for pattern, why in NOT_PRINTED.items() if fnmatchcase(place, pattern)), None)


class Forms:
    """The ways in which a value may be printed."""

    def __init__(self, opened: Opened) -> None:
        self.guide = guide = opened.guide
        words = catalogue(opened)
        assert isinstance(words, English | Plain)
        self.words = words
        self.side = side_of(guide.cover.language) if guide.cover else None
        machine = guide.machine
        assert machine is not None
        self.things = machine.things
        self.kits = machine.kits
        library = guide.library
        self.entries = {**library.tools, **library.consumables, **library.equipment}

    def of(self, scalar: Scalar) -> Iterator[str]:
        """Yield the ways in which a value may be printed; what is the library's, also in the words of the guide."""
        for words in self._of(scalar):
            yield words
            if self.side and (carried := said_by(words, self.side)) != words:
                yield carried

    def _of(self, scalar: Scalar) -> Iterator[str]:
        said = next((words for pattern, words in AS.items() if fnmatchcase(scalar.place, pattern)), None)
        if said is not None:
            yield said
            return
        text = scalar.words
        if found := [*references(text)]:
            # What a reference is printed as, its own tests hold; here, the words around it.
            ends = [0, *(each.end for each in found)]
            pieces = [
                text[end:start] for end, start in zip(ends, [*(each.start for each in found), len(text)], strict=True)
            ]
            yield " ".join(max(pieces, key=len).split())
            return
        yield " ".join(text.split())
        yield text.replace("-", " ")
        thing = self.things.get(text)
        if thing is not None:
            yield from _names(thing)
        if isinstance(thing, Control) or scalar.place == "step/to":
            yield from self.positions(text)
        if text in self.kits:
            yield self.kits[text].name
        if text in self.entries:
            yield self.entries[text].name
        if text in self.guide.jobs:
            yield self.guide.jobs[text].title
        if text in self.guide.library.cautions:
            yield self.guide.library.cautions[text].hazard
        if fnmatchcase(scalar.place, "machine/*/*/name"):
            yield plural(text)
            yield from (named(each) for each in self.things.values() if each.name == text)
        if scalar.place.endswith("/drive"):
            yield drive_said(text)
            yield from [self.words.drive_said(text)] if isinstance(self.words, Plain) else []
        if scalar.place.endswith(("step/check", "step/inspect")):
            # What is added after a comma may stand in front, or be an order by itself.
            what, added = apart(text)
            _, rest = done_first(added) or ("", added)
            yield max(what, rest.strip(), key=len)
        if scalar.place.endswith("when/*"):
            # An option goes with its choice: `with a long shaft`.
            options = self.guide.machine.options if self.guide.machine else {}
            yield from (built(spaced(option), [spaced(text)]) for option in options)
        if text.isdigit():
            yield number(int(text))
        # An 'act' has the name of its thing before the full stop, when it does not name it.
        if scalar.place in ("symptoms/*/sign", "step/act"):
            yield " ".join(text.split()).removesuffix(".")
        if scalar.place.startswith("job/interval/"):
            yield text.replace("..", "to")
            yield text.replace(" .. ", "–")
        if fnmatchcase(scalar.place, "machine/*/*/stages/*"):
            yield from self.shares(text)
        try:
            quantity = parse_any(text)
        except QuantityError:
            return
        yield show(quantity)
        yield self.words.quantity(quantity)
        yield from (in_words(shown, quantity) for shown in (self.words.quantity(quantity), show(quantity)))
        if scalar.place == "step/by" or fnmatchcase(scalar.place, "machine/*/*/past-hand-tight"):
            yield self.words.turned(quantity)
        if fnmatchcase(scalar.place, "machine/*/*/retighten-after") or scalar.place.endswith("/after"):
            yield self.words.running_hours(quantity)

    def positions(self, text: str) -> Iterator[str]:
        """Yield the sentences that a control, or a position of one, is printed in."""
        for thing in self.things.values():
            if isinstance(thing, Control):
                for ref in thing.positions:
                    if text in (thing.key, ref.name):
                        yield as_text(self.words.position(thing, ref.name))

    def shares(self, text: str) -> Iterator[str]:
        """Yield what a stage is that is a share of the torque."""
        for thing in self.things.values():
            if not isinstance(thing, Fastener):
                continue
            for stage in thing.stages:
                if stage.quantity and stage.quantity.text == text:
                    yield as_text(self.words.stage(stage, thing.torque))


def _names(thing: AnyThing) -> Iterator[str]:
    yield thing.name
    yield named(thing)
    if isinstance(thing, Fastener):
        yield counted(thing)
        yield named(thing, 1)
        yield named(thing, 2)
