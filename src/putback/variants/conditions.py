"""Conditions in an author's words, from sets of variants, and from conditions that lie in each other.

A set is written as few cases: one variant of it is taken, and all is left out of its description that can be; then one
of what is left, until nothing is.
"""

from __future__ import annotations

from putback.model.terms import Clause, Ref, When, both
from putback.source.span import Span
from putback.variants.fewest import any_way
from putback.variants.graph import Graph
from putback.variants.sets import ALL, NONE, EntangledError, VariantSet

MOST_CASES = 12
"""Cases of a condition, above which nobody can read it."""

MOST_OPTIONS = 40
"""Options that a set may depend on, above which no short condition is looked for."""

MOST_WRITTEN = 200
"""Cases of what an author wrote by laying blocks with conditions in each other."""

NOWHERE = Span("", 1, 1, 1, 1)
"""The place of a condition that no file says."""

_Case = dict[str, tuple[str, ...]]
"""Choices by option: any of them, of each."""


def joined(graph: Graph, one: When | None, other: When | None) -> When | None:
    """Return the condition that holds where both do, as the authors wrote it: what the other implies is left out.

    None is no condition. What would have too many cases is written anew.
    """
    if one is None or other is None:
        return one or other
    space = graph.space
    first, second = (space.both(graph.meaning(when), space.built) for when in (one, other))
    if space.within(first, second):
        return one
    if space.within(second, first):
        return other
    if min(len(one.cases), len(other.cases)) == 1 or len(one.cases) * len(other.cases) <= MOST_WRITTEN:
        when = both(one, other)
        assert when is not None
        cases = tuple(case for case in when.cases if all(clause.choices for clause in case))
        return When(cases or when.cases, one.span)
    try:
        return condition(graph, space.both(first, second), most=MOST_WRITTEN)
    except ManyCasesError:
        raise EntangledError from None


def condition(graph: Graph, wanted: VariantSet, among: VariantSet | None = None, most: int = MOST_CASES) -> When | None:
    """Return the condition that, of some variants, just the wanted ones meet; None when all of them do.

    `among` is all that were built when it is not given; questions must not stand in either. Where that takes more cases
    than `most`, `ManyCasesError` is raised.
    """
    space = graph.space
    among = space.built if among is None else space.both(among, space.built)
    wanted = space.both(wanted, among)
    if wanted == among:
        return None
    if len(space.options_of(wanted)) > MOST_OPTIONS:
        raise ManyCasesError
    writer = _Describer(graph, space.either(wanted, space.without(ALL, among)), wanted)
    cases: list[_Case] = []
    left = wanted
    while left != NONE:
        if len(cases) == most:
            raise ManyCasesError
        case = writer.hull(left) if not cases else None
        case = case or writer.widest(left)
        cases.append(case)
        left = space.without(left, writer.meaning(case))
    return When(tuple(_written(case, space.declared) for case in cases), NOWHERE)


class ManyCasesError(Exception):
    """A set of variants that no short condition describes."""


class _Describer:
    def __init__(self, graph: Graph, allowed: VariantSet, wanted: VariantSet) -> None:
        self.space = graph.space
        self.options = {name: graph.space.choices_of(name) for name in graph.space.declared}
        self.allowed = allowed
        """What a case may have in it: what is wanted, and what is not there anyway."""
        self.wanted = wanted

    def meaning(self, case: _Case) -> VariantSet:
        variants = ALL
        for option, choices in case.items():
            variants = self.space.both(variants, self.space.chosen(option, choices))
        return variants

    def fits(self, case: _Case) -> bool:
        return self.space.within(self.meaning(case), self.allowed)

    def hull(self, variants: VariantSet) -> _Case | None:
        """Return a single case for all, if one is enough: of each option, the choices that stand in it."""
        case: _Case = {}
        for option, choices in self.options.items():
            there = self.possible(variants, option)
            if len(there) < len(choices):
                case[option] = there
        return self.shortened(case) if self.fits(case) else None

    def widest(self, variants: VariantSet) -> _Case:
        """Return a case with one variant of these, and as many others as can be."""
        found: _Case = {}
        for place, branch in any_way(self.space, variants):
            name = self.space.names[place]
            found[name] = (self.space.choices[place][branch],)
        return self.widened(self.shortened(found))

    def shortened(self, case: _Case) -> _Case:
        """Leave out the options that can be, the last declared first."""
        for option in reversed(self.options):
            if option in case and self.fits(rest := {name: case[name] for name in case if name != option}):
                case = rest
        return case

    def widened(self, case: _Case) -> _Case:
        """Add the choices that can be, of those that some wanted variant has."""
        for option in case:
            for choice in self.options[option]:
                wider = {**case, option: (*case[option], choice)}
                if choice not in case[option] and choice in self.possible(self.wanted, option) and self.fits(wider):
                    case = wider
        return case

    def possible(self, variants: VariantSet, option: str) -> tuple[str, ...]:
        chosen = self.space.chosen
        return tuple(each for each in self.options[option] if self.space.both(variants, chosen(option, [each])) != NONE)


def _written(case: _Case, declared: list[str]) -> tuple[Clause, ...]:
    return tuple(
        Clause(Ref(option, NOWHERE), tuple(Ref(choice, NOWHERE) for choice in case[option]))
        for option in declared
        if option in case
    )
