"""A word is from the other side of the ocean from the guide, or from no trade at all.

A mechanic who looks for a silencer finds no muffler in the parts list, and paraffin is lamp oil to one reader and wax
to the other. A phrase that nobody in the trade says, such as "greased by water", is read twice and trusted less.

Say what the workshop says: with `language: en-GB` or `en-US` in guide.yaml the words are British or American; with `en`
either, but one of them throughout. Words in capitals or quotation marks are left as they are: they are labels on the
machine.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.unknown_reference import texts_of
from putback.ledger.opened import Opened
from putback.prose.trade_words import OwnWords, Told
from putback.source.finding import Level
from putback.source.quoting import quote
from putback.trade.words import Side, side_of

LEVEL = Level.ADVICE
GROUP = Group.WORDS

FAILS = """
steps:
  - inspect: belt-guard
    for: cracks
    text: Look at the belt guard beside the muffler and the silencer, with a spanner on the silencer bolt.
                                            ^^^^^^^ 'muffler' is American, but the guide says 'silencer' elsewhere
    note: Its bearing is greased by the water.
                         ^^^^^^^ 'greased' is not what the trade calls it
    otherwise:
      - stop: Get another guard.
"""

PASSES = """
steps:
  - inspect: belt-guard
    for: cracks
    text: Look at the belt guard beside the silencer, with a torque wrench on the silencer bolt.
    note: Its bearing is lubricated by the water. The switch says "GASOLINE".
    otherwise:
      - stop: Get another guard.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield words of the other side, and of no trade."""
    guide = opened.guide
    tag = guide.cover.language if guide.cover else None
    side = side_of(tag)
    if not guide.is_english:
        return
    own = OwnWords(guide, ((field, said) for field, said, _ in texts_of(opened)))
    if side is not None:
        for told in own.told(side):
            yield _fault(told, f"is {side.other.value}, but this guide is in {side.value} English")
    elif own.may_say(Side.UK) and own.may_say(Side.US):
        yield from _one_of_them([*own.told(Side.UK)], [*own.told(Side.US)])


def _one_of_them(american: list[Told], british: list[Told]) -> Iterator[Fault]:
    """Yield the words of the side that has fewer of them, where a guide speaks as both do."""
    sides = [[told for told in each if not told.slip.nobody] for each in (american, british)]
    fewer, more = sorted(sides, key=len)  # of as many, the American ones come first
    side = Side.US if fewer is sides[0] else Side.UK
    for told in fewer if more else ():
        yield _fault(told, f"is {side.value}, but the guide says {quote(more[0].said)} elsewhere")
    for told in american if side is Side.US else british:
        if told.slip.nobody:
            yield _fault(told, "")


def _fault(told: Told, other: str) -> Fault:
    message = f"{quote(told.said)} {'is not what the trade calls it' if told.slip.nobody else other}"
    if told.drawn:
        return Fault(told.span, f"in this picture, {message}", hint=f"let the picture say {quote(told.slip.right)}")
    hint = f"add 'name: {told.slip.right}'" if told.named else f"write {quote(told.slip.right)}"
    return Fault(told.span, message, hint=hint)
