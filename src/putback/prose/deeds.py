"""Work that a text orders: sentences of English that begin with what somebody must do."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from putback.model.job import Sequence
from putback.model.machine import Fastener, Machine
from putback.model.verbs import OTHER_WORDS, VERBS
from putback.model.verbs.cleaning import Apply
from putback.source.grammar import plural
from putback.source.late import Late


class Deed(NamedTuple):
    """A sentence that orders something."""

    words: str
    """The sentence in lower case, without its full stop."""
    verb: str | None
    """The verb of the language that says it; None when none does."""
    rest: str
    """What stands after the word of it: `the cover off`."""
    sure: bool = False
    """Whether its word means that verb, and nothing else."""


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_SENTENCES = Late(r"(?<=[.!?;:]) +")
_LEAD = Late(r"^(?:(?:then|now|first|also|next|afterwards|please|again|carefully|slowly|gently|always|and),? )+")
_APART = Late(r"^(take|put|pull|screw|pick|lift|get|draw|clip|turn|switch) (.{1,60}?) (off|out|away|back|on|in)\b")
"""A verb whose other half stands after its object: `take the cover off`."""
_TOLD = frozenset({"note", "caution", "stop", "wait", "do", "reverse", "back-to", "act"})
"""Verbs by which something is told; what they are called by otherwise, is no work."""
_LOOKS = frozenset({"look", "look-at", "observe", "hold", "support", "prop", "position", "rest", "add", "call"})
"""Words that stand for verbs, and in a note mostly say how something else is done."""
_NOUNS = _set(
    """bleed block bolt brush center centre charge clean clip coat cool drain drill dry empty file fit fold force free
    gauge grease guide hammer heat hook jack label lever lift loop lower mark measure meter mount notch oil peel place
    plane plug position press prime pump punch push reverse rub run scrap screw scribe set shift smooth split spray
    spread start strip switch tap tension test thread tie tilt tip top trim turn twist warm wash wedge wet wind wire
    work"""
)
"""Words that are as often the name of something, or say how it is, as they are an order."""
_AN_OBJECT = Late(
    r"(?:the|a|an|all|both|each|every|it|them|its|their|this|these|those|new|fresh|clean|up|down|out|off)\b"
)
_WHILE = Late(r"\b(?:while|meanwhile|all the time|as you)\b")
"""What is done while another step is done, says how that is done."""
_SURE = {
    verb: _set(words)
    for verb, words in {
        "remove": "remove take-off take-out uninstall unscrew unbolt detach dismount",
        "install": "install refit reinstall put-back put-on mount",
        "replace": "replace renew",
        "loosen": "loosen slacken untighten",
        "tighten": "tighten retighten torque retorque",
        "disconnect": "disconnect unplug",
        "connect": "connect reconnect",
        "drain": "drain",
        "fill": "fill refill top-up",
        "set": "set open close switch-on switch-off",
        "apply": "apply grease oil lubricate",
        "clean": "clean wash wipe rinse degrease",
        "inspect": "inspect examine",
        "measure": "measure",
        "check": "check verify test",
        "run": "run",
        "turn": "turn rotate",
        "mark": "mark",
        "align": "align realign",
        "adjust": "adjust",
    }.items()
}
"""Words that mean a verb and nothing else, whatever they are about."""
_OTHERS = _set(
    """apply bend bleed blow bring burn catch charge chisel coil count crank cut dip discard drag draw drill drive
    dry dump feed file fish flush fold force free grind guide hammer heat hook jack knock lay lead lever loop lower
    move notch park peel pierce pinch plane pour press prime pry pull pump punch push raise record ream roll rub
    run sand saw scrape scrap screw shake shift shut slide slip smooth soak split spread squeeze stir straighten
    stretch stuff suck swing switch tap thread throw tie tilt top trim twist unfold unroll unwind warm wedge
    wet widen wiggle wind wire work wrap write"""
)
"""What is done, and no verb of the language says."""
_LATER = Late(
    r"\b(?:after|within|every|in) (?:the )?(?:first |next |another )?(?:\d[\d.,]*|an?|one|two|three|four|five|six|ten"
    r"|twenty|fifty|hundred) (?:more |running |working |operating |driving )*(?:h|hours?|km|miles?|days?|weeks?)\b"
    r"|\b(?:after|on|before) the (?:first|next) (?:run|trip|ride|use|start|day)\b"
)
_COUNT = r"(?:(?:the|a|both|all|each|every|any|one|two|three|four|five|six|seven|eight|of|\d+) )*"

_SOME = Late(r"(?:a|an|another|any|some|one)\b")
"""What stands before a name that means not all of them."""


def deeds(text: str) -> Iterator[Deed]:
    """Yield the sentences of a text that order work: `Prime the pump.`; none that says how, when or what not."""
    for sentence in _SENTENCES.ready.split(text.strip()):
        words = _LEAD.sub("", sentence.lower()).rstrip(".!;: ")
        deed = _apart(words) or _of_words(words)
        if deed is not None and not _WHILE.search(words):
            yield deed


def is_later(deed: Deed) -> bool:
    """Tell whether what a sentence orders is due after the job: `Measure it again after ten running hours.`"""
    return _LATER.search(deed.words) is not None


def _apart(words: str) -> Deed | None:
    found = _APART.match(words)
    if found is None:
        return None
    word = f"{found[1]}-{found[3]}"
    verb = OTHER_WORDS.get(word)
    rest = words[found.end(1) + 1 :]
    return Deed(words, verb, rest, word in _SURE.get(verb, ())) if verb and verb not in _TOLD else None


def _of_words(words: str) -> Deed | None:
    first, _, rest = words.partition(" ")
    second, _, further = rest.partition(" ")
    for word, behind in ((f"{first}-{second}", further), (first, rest)):
        verb = word if word in VERBS else OTHER_WORDS.get(word)
        if verb is None or verb in _TOLD or word in _LOOKS:
            continue
        if word in _NOUNS and not _AN_OBJECT.match(behind):
            return None
        return Deed(words, verb, behind, word in _SURE.get(verb, ()))
    orders = first in _OTHERS and (first not in _NOUNS or _AN_OBJECT.match(rest))
    return Deed(words, None, rest) if orders and rest else None


class Objects:
    """The things that an order can be about, by their names in a sentence."""

    def __init__(self, machine: Machine) -> None:
        """Take the things of a machine."""
        self.things = machine.things
        self.keys: dict[str, str] = {}

    @cached_property
    def pattern(self) -> re.Pattern[str] | None:
        """What the names look like, after an article or a count; made when the first order is found."""
        for thing in self.things.values():
            for words in (thing.name, thing.plural or plural(thing.name)):
                self.keys.setdefault(words.lower(), thing.key)
        # The longest first, so that of two names that begin alike the whole one is found.
        names = "|".join(re.escape(name) for name in sorted(self.keys, key=len, reverse=True))
        return re.compile(rf"{_COUNT}\b(?P<name>{names})\b") if names else None

    def object_of(self, deed: Deed) -> str | None:
        """Return the key of the thing that an order is about: what stands after its verb."""
        found = self.pattern.match(deed.rest) if self.pattern else None
        return self.keys[found["name"]] if found else None

    def all_in(self, words: str) -> set[str]:
        """Return the keys of all things that words name."""
        return {self.keys[each["name"]] for each in self.pattern.finditer(words)} if self.pattern else set()


def worked_on(sequences: Iterable[Sequence]) -> set[str]:
    """Return the things that some step works on."""
    found: set[str] = set()
    for sequence in sequences:
        for step in sequence.steps():
            if step.verb.works:
                found |= {ref.name for ref in step.things}
                found |= {ref.name for ref in step.action.to} if isinstance(step.action, Apply) else set()
    return found


def is_on_a_thing(deed: Deed, known: Objects, done: set[str]) -> bool:
    """Tell whether a verb says what an order orders, and it is about a thing that no step works on."""
    key = known.object_of(deed) if deed.sure else None
    verb = VERBS[deed.verb or ""] if key else None
    return verb is not None and verb.handles and verb.takes_thing(known.things[key or ""]) and key not in done


def is_some(deed: Deed, known: Objects) -> bool:
    """Tell whether an order is about one of several, or about some that nobody counted: `Take out a shim.`"""
    thing = known.things.get(known.object_of(deed) or "")
    several = isinstance(thing, Fastener) and (thing.uncounted or thing.count > 1)
    return several and _SOME.match(deed.rest) is not None


def verb_for(deed: Deed, known: Objects) -> str | None:
    """Return, in quotes, the step that says what a sentence orders; None when no verb says it of such a thing."""
    if not deed.sure:
        return None
    verb, thing = VERBS[deed.verb or ""], known.things.get(known.object_of(deed) or "")
    if thing is not None and verb.takes_thing(thing):
        more = {"set": " with 'to'", "turn": " with 'by' or 'until'"}.get(verb.name, "")
        return f"'{verb.name}: {thing.key}'{more}"
    return f"'{verb.name}: …' with words instead of a name" if verb.words else None
