"""A name is not known, or belongs to something that does not fit there.

A step works on a part that the machine file does not have; most often it is a slip of the pen.

Correct the name, or add the thing to the machine file or the library. Tools have a check of their own, `unknown-tool`.
"""

from collections import Counter
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.guide.meant import UnknownName
from putback.ledger.opened import Opened
from putback.model.terms import Ref
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.source.phrases import as_name
from putback.source.quoting import quote

LEVEL = Level.ERROR
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-gaurd
             ^^^^^^^^^^ nothing is called 'belt-gaurd'
    note: Look for cracks.
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield names that stand for nothing, or for the wrong kind of thing."""
    for unknown in opened.unknown:
        if unknown.use.kinds != ("tool",) and not _renamed(unknown, opened):
            yield fault_of(unknown)


def _renamed(unknown: UnknownName, opened: Opened) -> bool:
    """Tell whether a position or a choice is no name in the machine file either: that is told there, and once."""
    use, machine = unknown.use, opened.guide.machine
    if use.kinds not in (("position",), ("choice",)) or machine is None or machine.path not in opened.guide.mended:
        return False
    plain = as_name(use.ref.name)
    return plain != use.ref.name and plain in (use.known or ())


def fault_of(unknown: UnknownName) -> Fault:
    """Return what is wrong with a name, in words."""
    use, near, name = unknown.use, unknown.near, unknown.use.ref.name
    if unknown.given and near:
        count = len(unknown.others) + 1
        message = f"nothing uses {quote(near)}, but {count} places say {quote(name)}"
        return Fault(unknown.given, message, _places((use.ref, *unknown.others)), f"did you mean {quote(name)}?")
    also = _places(unknown.others, use.ref)
    hint = f"did you mean '{near}'?" if near else _hint(unknown)
    if use.known is not None:
        if near is None and use.known:
            hint = f"it can be {listed([quote(each) for each in use.known], 'or')}"
        return Fault(use.ref.span, f"{use.user} {quote(name)}", also, hint)
    kind = unknown.kind
    if kind is None:
        what = "nothing" if len(use.kinds) > 1 else f"no {use.kinds[0]}"
        return Fault(use.ref.span, f"{what} is called {quote(name)}", also, hint)
    if use.verb and kind in use.verb.better:
        hint = _better(use.verb.name, use.verb.better[kind], name)
    elif kind == "control" and use.user == "secures":
        hint = f"a control is not secured: in the machine file, give it 'needs: {{{use.owner}: off}}'"
    elif home := _LISTS.get(kind) if use.user in _LISTS.values() else None:
        hint = f"list it under '{home}'"
    elif kind == "part" and use.kinds == ("fastener",):
        hint = "if it is screwed on, give it a 'torque', or 'by-hand: how', in the machine file"
    wanted = listed([_one(each) for each in use.kinds], "or")
    return Fault(use.ref.span, f"{quote(name)} is {_one(kind)}; '{use.user}' takes {wanted}", hint=hint)


def _hint(unknown: UnknownName) -> str | None:
    """Return what to write where nothing known is near: a name that has the same word, or where a new one belongs."""
    where = _WHERE.get(unknown.use.kinds)
    if not unknown.kin:
        return where
    kin = f"write {listed([quote(each) for each in unknown.kin], 'or')}"
    return f"{kin}; or {where}" if where else kin


def _one(kind: str) -> str:
    """Return a kind with its article, if it has one: `a part`, `an option`, `equipment`."""
    article = "" if kind == "equipment" else "an " if kind[0] in "aeiou" else "a "
    return f"{article}{kind}"


def _places(uses: tuple[Ref, ...], told: Ref | None = None) -> tuple[Also, ...]:
    """Return the first use in each file, with the number of the others there."""
    counts = Counter(use.span.path for use in uses)
    first = {use.span.path: use for use in reversed(uses)}
    found = []
    for path in counts:
        more = counts[path] - 1
        here = "here as well" if told and told.span.path == path else "here"
        rest = f", and {more} more time{'s' if more > 1 else ''} in this file" if more else ""
        found.append(Also(first[path].span, f"{quote(first[path].name)} is used {here}{rest}"))
    return tuple(found)


_WHERE: dict[tuple[str, ...], str] = {
    ("consumable",): "add it to consumables.yaml",
    ("equipment",): "add it to equipment.yaml",
    ("caution",): "add it to cautions.yaml",
    ("block",): "write it as a file in blocks/",
    ("tool",): "add it to tools.yaml",
    ("place",): "describe it under 'places' in machine.yaml",
    ("setting",): "describe it under 'settings' in machine.yaml",
}
"""Where a name of a kind belongs, when nothing known is near."""


_LISTS = {
    **dict.fromkeys(("part", "fastener", "line", "kit"), "parts"),
    "fluid": "fluids",
    "consumable": "consumables",
    "tool": "tools",
    "equipment": "equipment",
}
"""In which list of what a job needs each kind of thing is."""


def _better(verb: str, better: str, name: str) -> str:
    """Return the step that was meant; a key that only the other verb has goes."""
    gone = "" if verb != "set" else ", without 'to'"
    return f"write '{better}: {name}'{gone}"
