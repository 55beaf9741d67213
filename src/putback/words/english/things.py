"""How things, quantities, conditions and positions are called in English."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from putback.ledger.opened import Opened
from putback.model.called import counted, is_uncounted, named
from putback.model.details import Kit
from putback.model.kits import kit_of
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.said import Limit
from putback.model.terms import Clause, Ref, When
from putback.source.grammar import number, unbroken
from putback.units import Quantity, System, both, digits, show
from putback.units.printing import unit_in
from putback.words.english.built import built_so
from putback.words.english.controls import brought
from putback.words.english.sizes import drive_said, which_where
from putback.words.facts import quantity_or_words
from putback.words.pieces import Phrase, Piece, Role, on_one_line, phrase

_AS_IT_IS = re.compile(
    r"(the|a|an|all|both|each|every|any|no|your|its|that|this|these|those|how|whether|where|when|what|which|if)\b",
    re.IGNORECASE,
)
"""Words that begin a phrase which needs no article."""
_CODE = re.compile(r"(.*[\s-])?([A-Z]|[A-Z]*[0-9][A-Z0-9./-]*)")
"""A name that is a letter or a number, or ends with one: `B`, `TP-1`, `cylinder 3`, `terminal B`."""
_WITHIN = re.compile(r"\b(of|in|on|at|for|to|from|between|with|after|before|under|over|by|behind|above|below)\b")
"""With such a word, the letter or number at the end is not the name: `clearance of the inlet valve of cylinder 1`."""
_NO_PLURAL = ("ss", "us", "is", "gas", "lens")
"""Ends of names in the singular that look like a plural."""
_NEXT_TO_LETTER = re.compile(r"-(?![0-9])|(?<![0-9])-")


def spaced(name: str) -> str:
    """Return a name of a file as words: `heat exchanger`, `12 V`; between two digits its hyphen stays: `3-8`."""
    return _NEXT_TO_LETTER.sub(" ", name)


def joined(words: Iterable[str], last: str = "and") -> str:
    """Return words as a list in a sentence, all of them: what an author wrote is printed."""
    *others, end = words if isinstance(words, tuple | list) and words else ("",)
    return f"{', '.join(others)} {last} {end}" if others else end


def sentence(words: str) -> str:
    """Return words with a capital and a full stop."""
    words = ended(words)
    return words[:1].upper() + words[1:]


def ended(words: str) -> str:
    """Return words with a full stop, as they begin."""
    words = on_one_line(words)
    return f"{words}{'' if words.endswith(('.', '!', '?', ':')) else '.'}"


def at_angle(degrees: float) -> str:
    """Return how a crowfoot is held by the wrench, by the angle between the two, degrees."""
    return f"at {digits(degrees)}° to the wrench" if degrees else "in line with the wrench"


def bare(words: str) -> bool:
    """Tell whether a name stands without an article: it brings its own, or it is a letter or a number."""
    if _AS_IT_IS.match(words):
        return True
    return _CODE.fullmatch(words) is not None and _WITHIN.search(words) is None


class Things:
    """What a catalogue of sentences knows of one guide, and how it calls it."""

    def __init__(self, opened: Opened) -> None:
        guide = opened.guide
        self.things = opened.written.printed if opened.written else {}
        self.machine = guide.machine
        self.library = guide.library
        self.graph = opened.graph
        systems = [System(unit) for unit in guide.cover.units] if guide.cover else [System.METRIC, System.US]
        self.first = systems[0]
        self.second = systems[1] if len(systems) > 1 else None

    def own(self, words: str) -> str:
        """Return words of ours as they are said on the guide's side of the ocean."""
        return words

    # Quantities and conditions.

    def quantity(self, quantity: Quantity) -> str:
        """Return a quantity in the guide's units. All pages ask here, so that it prints alike on all of them."""
        return both(quantity, self.first, self.second)

    def unit_of(self, quantity: Quantity) -> str:
        """Return the unit that a quantity is printed in first: a value is written down in it."""
        return unit_in(quantity, self.first)

    def limit(self, limit: Limit) -> str:
        """Return a limit: in the guide's units when it is a quantity, otherwise as it is."""
        return self.quantity(limit.quantity) if limit.quantity else limit.text

    def briefly(self, limit: Limit) -> str:
        """Return a limit in the first of the guide's units: the second stands where it is said in full."""
        return both(limit.quantity, self.first, None) if limit.quantity else limit.text

    def at_speed(self, text: str) -> str:
        """Return a speed: in the guide's units when it is a quantity, otherwise as it is."""
        speed = quantity_or_words(text)
        return self.quantity(speed) if isinstance(speed, Quantity) else speed

    def only(self, when: When | None) -> str | None:
        """Return a condition as words: `only with a long shaft`; None for what every variant meets."""
        when = self.graph.needed(when) if self.graph else when
        if when is None:
            return None
        # What is joined by "or" is set off by commas: nobody need guess what goes together.
        cases = [self._case(case) for case in when.cases]
        between = "; or " if any("," in case for case in cases) else ", or "
        return f"only {between.join(cases)}"

    def _case(self, case: Sequence[Clause]) -> str:
        """Return what must hold at once, by the order of the options: `with a long shaft and gear drive`."""
        place = {name: number for number, name in enumerate(self.machine.options if self.machine else ())}
        clauses = sorted(case, key=lambda clause: place.get(clause.option.name, len(place)))
        return built_so([(spaced(each.option.name), [spaced(c.name) for c in each.choices]) for each in clauses])

    def only_when(self, when: When | None) -> str | None:
        """Return a condition as it stands in front of a sentence: `Only with a long shaft.`"""
        words = self.only(when)
        return sentence(words) if words else None

    def names(self, names: Sequence[str]) -> str:
        """Return names as a list: `pump, tail and cam`."""
        return joined(list(names))

    def choices(self, names: Sequence[str]) -> str:
        """Return choices or positions as a list: `belt or gear`."""
        return joined([spaced(name) for name in names], "or")

    def option(self, name: str) -> str:
        """Return an option as a label: `Pump drive`."""
        words = spaced(name)
        return words[:1].upper() + words[1:]

    # Things.

    def title_of(self, thing: AnyThing) -> str:
        """Return a thing's name as a row or heading: `Cover screws`."""
        at_places = thing.each and isinstance(thing, Part | Fastener | Line) and not self.several(thing)
        name = named(thing, 2) if at_places else named(thing)
        return name[:1].upper() + name[1:]

    def facts(self, thing: AnyThing, *, sizes: bool = True, new: bool = False) -> str:
        """Return what tells a fastener from others, in brackets: ` (M6 x 1.0, 40 mm, 10 mm hex)`.

        With `new`, the number by which a part, fastener or line is bought stands there as well.
        """
        facts = self.sizes(thing) if sizes and isinstance(thing, Fastener) else []
        if new and isinstance(thing, Part | Fastener | Line) and thing.number:
            facts.append(f"part number {thing.number}")
        return f" ({', '.join(facts)})" if facts else ""

    def kit_of(self, thing: Part | Fastener | Line) -> Kit | None:
        """Return the kit in which a thing is bought."""
        return kit_of(self.machine, thing) if self.machine else None

    def sizes(self, thing: Fastener) -> list[str]:
        """Return thread, lengths and drive of a fastener.

        Sizes stay as they are marked on the piece and on the tool: they are names, not measurements.
        """
        facts = (unbroken(thing.thread or ""), *self.lengths(thing), self.driven(thing))
        return [fact for fact in facts if fact]

    def driven(self, thing: Fastener) -> str:
        """Return what turns a fastener: `13 mm hex`; nothing when that is not said."""
        return drive_said(thing.drive)

    def lengths(self, thing: Fastener) -> list[str]:
        """Return the length of a fastener, or which is where: `front 30 mm`; `20 mm at left and right`."""
        lengths = which_where([(spaced(position), show(length)) for position, length in thing.lengths])
        return [show(thing.length), *lengths] if thing.length else lengths

    def thing(self, ref: Ref, count: int | None = None, article: str = "the") -> Phrase:
        """Return a thing with its article: `the impeller`, `the six cover screws`, `two of the six cover screws`."""
        thing = self.things.get(ref.name)
        if thing is None:
            return phrase(self.other(ref.name))
        return (Piece(self._with_article(thing, count, article), Role.THING, thing.of or ref.name),)

    def _with_article(self, thing: AnyThing, count: int | None, article: str) -> str:
        if is_uncounted(thing):
            return f"{'new' if article == 'a new' else 'all the'} {named(thing)}"
        pieces = thing.count if isinstance(thing, Fastener) else 1
        if count is not None and count < pieces:
            if article == "the":
                return f"{number(count)} of the {counted(thing)}"
            return f"{article} {named(thing, 1)}" if count == 1 else f"{number(count)} new {named(thing, count)}"
        if article.endswith("new") and pieces > 1:
            return f"{article.removesuffix('new').replace('a ', '')}{number(pieces)} new {named(thing)}"
        if article.endswith("new"):
            return f"new {thing.name}" if article == "a new" and self.several(thing) else f"{article} {thing.name}"
        words = counted(thing)
        return words if pieces == 1 and bare(words) else f"{article} {words}".lstrip()

    def several(self, thing: AnyThing) -> bool:
        """Tell whether a thing is spoken of in the plural: `spark-plug leads`, but not `pair of pawls`."""
        if isinstance(thing, Fastener):
            return thing.count > 1 or thing.uncounted
        head = thing.name.lower().split(" of ")[0]
        return head.endswith("s") and not head.endswith(_NO_PLURAL)

    def place(self, words: str) -> str:
        """Return an author's words for a place; the key of a thing stands for its name."""
        thing = self.things.get(words)
        return words if thing is None else self._with_article(thing, None, "the")

    def other(self, words: str) -> str:
        """Return words that stand for no thing, with an article: `the tell-tale`, `cylinder 3`."""
        for entries in (self.library.equipment, self.library.consumables):
            if words in entries:
                return f"the {entries[words].name}"
        return words if bare(words) else f"the {words}"

    def consumable(self, name: str) -> str:
        """Return the name of a consumable."""
        entry = self.library.consumables.get(name)
        return entry.name if entry else spaced(name)

    def all_of(
        self,
        refs: Sequence[Ref],
        count: int | None = None,
        article: str = "the",
        facts: bool = False,
        at: Sequence[Ref] = (),
        new: bool = False,
    ) -> Phrase:
        """Return things as a list: `the collar, the spacer and the flat washer`; pieces with names by their places.

        With `facts` their sizes stand behind them, with `new` their part numbers.
        """
        result: Phrase = ()
        for index, ref in enumerate(refs):
            between = "" if index == 0 else " and " if index == len(refs) - 1 else ", "
            thing = self.things.get(ref.name)
            detail = self.facts(thing, sizes=facts, new=new) if thing else ""
            result = phrase(*result, between, self._placed(ref, count, article, at), detail)
        return phrase(*result, f" at {joined([spaced(place.name) for place in at])}" if at else "")

    def _placed(self, ref: Ref, count: int | None, article: str, at: Sequence[Ref]) -> Phrase:
        thing = self.things.get(ref.name)
        if not at or not isinstance(thing, Fastener) or (count is not None and count != len(at)):
            return self.thing(ref, count, article)
        # The places say which pieces, so that nobody asks which of the six.
        several = len(at) > 1
        words = f"{number(len(at))} {'new ' if article == 'a new' else ''}" if several else ""
        before = "" if several and article == "a new" else f"{article} "
        return (Piece(f"{before}{words}{named(thing, len(at))}", Role.THING, thing.of or ref.name),)

    # Positions of controls.

    def position(self, control: Control, position: str) -> Phrase:
        """Return what brings a control to a position, as a sentence: `Close the seacock.`

        The author's own words come first.
        """
        own = control.phrase(position)
        name = counted(control)
        words = sentence(own or brought(name if bare(name) else f"the {name}", spaced(position)))
        start = words.lower().find(control.name.lower())
        if start < 0:
            return phrase(words)
        end = start + len(control.name)
        return phrase(words[:start], Piece(words[start:end], Role.THING, control.key), words[end:])

    def set_first(self, control: Control, position: str, when: When | None) -> Phrase:
        """Return a control to set before the work, and for which variants: `Close the seacock.`"""
        limit = self.only_when(when)
        return phrase(f"{limit} " if limit else None, self.position(control, position))

    def positions(self, control: Control) -> str:
        """Return all positions of a control, each with the author's words for it: `on (switch it on) or off`."""
        shown = [
            f"{spaced(ref.name)} ({own.rstrip('.')})" if (own := control.phrase(ref.name)) else spaced(ref.name)
            for ref in control.positions
        ]
        return joined(shown, "or")

    def position_name(self, position: str) -> str:
        """Return the name of a position: `half open`."""
        return spaced(position)

    def fluid(self, fluid: Fluid, volume: Quantity | None) -> str:
        """Return a fluid to lay out: `gear oil: SAE 90 GL-4, 370 ml (12.5 US fl oz)`."""
        facts = ", ".join(fact for fact in (fluid.grade, self.quantity(volume) if volume else None) if fact)
        return f"{fluid.name}: {facts}" if facts else fluid.name
