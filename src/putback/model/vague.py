"""Words of English that say nothing of what is good: two people would judge by them in two ways.

`properly seated` is what somebody takes for proper; `seated on its shoulder all round` can be seen. A text says
nothing when every word of it is empty; when what it says of its subject is (`the belt tension is correct`); or when it
asks for a good one of something (`proper alignment of the marks`). A number, or one concrete word beside these, makes
it say something.
"""

from __future__ import annotations

from collections.abc import Collection
from functools import cache

from putback.model.measurands import TERMS
from putback.source.late import Late

_WORDS = Late(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_PHRASE = Late(r"\b(?:fit for|sound(?= condition)|(?:about|just|all) right|alright)\b")
"""Words that judge only beside each other."""
_NUMBER = Late(r"\d")
_NEVER_USED = Late(
    r"\b(?:never|not)(?: yet| ever)?(?: been)? (?:used|repaired|serviced|worked)(?! (?:if|when|until|as)\b)"
)
"""What can be seen of a thing: an edge that has never been used."""
_CLAUSE = Late(r"[,;:.()]|\b(?:and|but|or|with|without)\b")


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_FUNCTION = _set(
    """a an the this that these those it its they them their there here is are be been being was were has have had do
    does did can could may might must shall should will would of in to for from by on at into as if when while
    during before after within out outside beyond which what who whose so such than then and or any all each
    every both some one ones very most more quite fully completely entirely still always again not no nothing
    without never free none you your everything anything whatever"""
)
"""Words that carry no meaning of their own."""

_NAYS = _set("no none not nothing without never")

_JUDGING = _set(
    """according accordance conformance intended specification specifications spec specs manufacturer manufacturer's
    manufacturers maker maker's makers good well fine ok okay proper properly correct correctly rightly ready
    satisfactory satisfactorily satisfying acceptable acceptably adequate adequately sufficient sufficiently
    suitable suitably appropriate appropriately normal normally usual usually regular expected reasonable
    reasonably serviceable serviceability unserviceable safe safely safety required needed necessary desired
    applicable specified recommended prescribed nominal standard perfect perfectly excellent okayed approved
    faultless flawless trouble bad poor abnormal abnormality abnormalities unusual improper improperly incorrect
    incorrectly wrong defective faulty unsatisfactory unacceptable inadequate insufficient unsuitable unsafe
    dangerous dangerously hazardous endanger endangers endangered endangering endangerment impair impairs
    impaired jeopardise jeopardize jeopardizes jeopardises compromise compromises affect affects effective
    effectively efficient efficiently reliable reliably secure securely functional okays pass passes passed
    passing undesirable optimal optimum best ideal ideally decent careful carefully nice nicely accurate
    accurately usable enough operable operative inoperative"""
)
"""Words that judge, and leave to the reader by what."""

_BAD = _set(
    """trouble bad poor abnormal abnormality abnormalities unusual improper improperly incorrect incorrectly wrong
    defective faulty unsatisfactory unacceptable inadequate insufficient unsuitable unsafe undesirable"""
)
"""Those of them that say with a noun what to look for, as far as the trade ever does: bad insulation, unusual wear."""

_STRONG = _set(
    """proper properly correct correctly adequate adequately sufficient sufficiently satisfactory satisfactorily
    acceptable acceptably appropriate appropriately suitable suitably serviceable required specified recommended
    prescribed reasonable normal normally ok okay good enough"""
)
"""Those of them that say nothing of whatever they stand beside, at the end; `good` and `normal` may begin something."""

_WAYS = _set("up down out in on off forward forwards back backwards upwards downwards outside inside first")
"""What can be seen: the correct side up."""

_GENERIC = _set(
    """condition conditions state order shape quality appearance performance function functions functioning
    functionality operate operates operating operated operation operations operational work works working use
    used using usage service serviced requirement requirements specification specifications spec specs limit
    limits tolerance tolerances range ranges value values standard standards manufacturer manufacturer's
    manufacturers maker maker's makers factory manual instruction instructions handbook rule rules regulation
    regulations procedure procedures practice according accordance per defect defects fault faults problem
    problems issue issues irregularity irregularities deficiency deficiencies anomaly anomalies discrepancy
    discrepancies concern concerns general overall visual complete completeness integrity way manner extent
    degree new like original purpose intended designed design equipment unit component components item items
    part parts thing things person persons personnel people operator operators crew user users driver machine
    machinery guidance amount meet meets met comply complies compliance conform conforms see look looks looking
    seem seems appear appears refer check checks checked inspect inspected test tested tests make sure ensure
    verify verified confirm found sign signs indication indications evidence repair fulfil fulfils fulfill
    fulfills fulfilled applied"""
)
"""Words that stand for anything."""

_STATE = _set("condition state operation function functioning performance quality appearance serviceability integrity")
"""What everything has in some way: the condition of the hoses."""

_WEAK = _set(
    """seated seat seats seating aligned alignment align aligns adjusted adjustment adjust installed installation
    fitted fitting fits fit mounted mounting fastened fastening fixed attached attachment secured securing
    tightened tightness tight torqued tensioned lubricated lubrication routed routing connected connection
    connections located location positioned position positions placed placement assembled assembly closed closes
    closing opened opens opening turned given stated stowed decent running runs run moving moves move movement
    turning turns turn rotating rotates rotation returns return returning engaged engages engagement sealed
    seals sealing contact contacts meshed mesh meshing latched latches locked locks locking charged filled
    cleaned cleanliness supported support set sets setting settings timed tuned balanced calibrated bonded
    grounded earthed started starts starting stops stopping shifting shifts respond responds response reacts
    behaves behaviour behavior idles idling performs ground earth engine system performs stage brake brakes
    light lights lamp lamps noise sound wear worn damage level colour color size type kind reading readings
    signal action motion feel feels sounds load effect fit sound right"""
)
"""Words that say something alone, and nothing of which somebody only says that it is good."""


def says_nothing(text: str, of: Collection[str] = ()) -> bool:
    """Tell whether an English text leaves to the reader what is good; `of` are words that name what is looked at."""
    if _NUMBER.search(text) or _NEVER_USED.search(text.lower()):
        return False
    words = _words(_PHRASE.sub("acceptable", text.lower()))
    if not words or not any(_judges(word) for word in words):
        return False
    names = {word for name in of for word in _words(name)}
    if _empty(words, names):
        return True
    clauses = [clause for clause in map(_words, _CLAUSE.ready.split(text)) if clause]
    return all(_clause_says_nothing(clause, names) for clause in clauses)


def _words(text: str) -> list[str]:
    return [match[0].replace("’", "'") for match in _WORDS.finditer(text.lower().replace("-", " "))]


def _judges(word: str) -> bool:
    return word in _JUDGING or word in _GENERIC


def _any_judging(words: list[str]) -> bool:
    return any(word in _JUDGING and word not in _BAD for word in words)


@cache
def _measures() -> frozenset[str]:
    return frozenset(word for _, terms in TERMS for word in terms.replace(",", " ").split())


def _hollow(word: str) -> bool:
    return word in _FUNCTION or word in _JUDGING or word in _GENERIC


def _dull(word: str, names: Collection[str] = ()) -> bool:
    return (
        _hollow(word) or word in _WEAK or word in _measures() or word in names or word.removesuffix("s") in _measures()
    )


def _empty(words: list[str], names: Collection[str]) -> bool:
    """Tell whether no word says anything: with a word that judges, not even the weak ones do."""
    if all(_hollow(word) or word in names for word in words) and any(map(_judges, words)):
        return True
    return _any_judging(words) and all(_dull(word, names) for word in words) and not _denied(words)


def _denied(words: list[str]) -> bool:
    """Tell whether something is said not to be there: `no unusual noise` can be heard."""
    return any(word in _NAYS for word in words) and any(word in _WEAK or word in _measures() for word in words)


def _clause_says_nothing(words: list[str], names: Collection[str]) -> bool:
    if _empty(words, names):
        return True
    if any(word in _NAYS for word in words):
        return False
    return _ends_empty(words, names) or _asks_for_a_good_one(words, names)


def _ends_empty(words: list[str], names: Collection[str]) -> bool:
    """Tell whether a subject is only said to be good: `the gasket is properly seated`, `output normal`."""
    start = len(words)
    while start and _dull(words[start - 1], names):
        start -= 1
    end = words[start:]
    subject = [word for word in words[:start] if word not in _FUNCTION]
    if len(subject) > 3 or not _any_judging(end):
        return False
    return len(end) > 1 or (end[0] in _STRONG and len(subject) < 3)


def _asks_for_a_good_one(words: list[str], names: Collection[str]) -> bool:
    """Tell whether a good one of something is asked for: `proper alignment of the marks`, `correct polarity`."""
    rest = [word for word in words if word not in ("a", "an", "the", "for")]
    before = rest[: rest.index("of")] if "of" in rest else []
    if before and before[-1] in _STATE and all(map(_hollow, before)):
        return True
    if not rest or rest[0] not in _JUDGING:
        return False
    if before:
        return all(_dull(word, names) for word in before)
    return rest[0] in _STRONG - {"good", "normal", "ok", "okay"} and len(rest) <= 4 and rest[-1] not in _WAYS
