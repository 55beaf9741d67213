"""A name stands for nothing, or for something that does not fit there.

A step works on a part that the machine file does not have, most often a slip of the pen.

Correct the name, or add the thing to the machine file or the library. Tools are told by `unknown-tool`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.guide.names import Names, NameUse, uses_of
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.nearest import distance, nearest
from putback.source.quoting import quote

LEVEL = Level.ERROR
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: impeler
             ^^^^^^^ nothing is called 'impeler'
"""

PASSES = """
steps:
  - inspect: belt-guard
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield names that stand for nothing, or for the wrong kind of thing."""
    names = Names(opened.guide.machine, opened.guide.library)
    for use in uses_of(opened.guide):
        if use.kinds == ("tool",) or opened.guide.library.broken & set(use.kinds):
            continue  # of a file that could not be used, no name is known
        if use.kinds == ("block",) and opened.guide.library.is_lost(use.ref.name):
            continue
        if use.kinds != ("hazard",) and opened.guide.machine is None:
            continue
        fault = fault_of(use, names)
        if fault:
            yield fault


def fault_of(use: NameUse, names: Names) -> Fault | None:
    """Return what is wrong with one use of a name; None when it stands for something that fits."""
    name = use.ref.name
    if use.known is not None:
        if name in use.known:
            return None
        near = nearest(name, use.known)
        hint = (
            f"did you mean '{near}'?"
            if near
            else f"it can be {listed([quote(each) for each in use.known], 'or')}"
            if use.known
            else None
        )
        return Fault(use.ref.span, f"{use.user} {quote(name)}", hint=hint)
    if names.has(name, use.kinds):
        return None
    known = names.of(use.kinds)
    kind = names.kind_of(name)
    if use.free and (kind is not None or " " in name):
        return None
    near = nearest(name, known)
    if use.free and (near is None or not _misspelt(name, near)):
        return None
    hint = f"did you mean '{near}'?" if near else _WHERE.get(use.kinds)
    if kind is None:
        what = "nothing" if len(use.kinds) > 1 else f"no {use.kinds[0]}"
        return Fault(use.ref.span, f"{what} is called {quote(name)}", hint=hint)
    if use.verb and kind in use.verb.better:
        hint = f"write '{use.verb.better[kind]}: {name}'"
    wanted = listed([f"{'an' if kind_[0] in 'aeiou' else 'a'} {kind_}" for kind_ in use.kinds], "or")
    article = "an" if kind[0] in "aeiou" else "a"
    return Fault(use.ref.span, f"{quote(name)} is {article} {kind}; '{use.user}' takes {wanted}", hint=hint)


_WHERE: dict[tuple[str, ...], str] = {
    ("consumable",): "add it to consumables.yaml",
    ("aid",): "add it to aids.yaml",
    ("caution",): "add it to cautions.yaml",
    ("block",): "write it as a file in blocks/",
}
"""Where a name of a kind belongs, when nothing known is near."""


def _misspelt(word: str, name: str) -> bool:
    """Tell whether a plain word is so near to a name that it must be meant: one letter in four, at least one.

    `check: cover` need not be the part `cover-plate`: a word that only begins a name is a word of its own.
    """
    return distance(word.casefold(), name) <= max(1, len(name) // 4)
