"""The ways in which machines of one model differ, and how to tell which one a machine is."""

from __future__ import annotations

from collections.abc import Collection

from docutils import nodes

from putback.model.machine import Machine
from putback.sphinxext import nodes as own
from putback.sphinxext.building import NONE, Cell, fact, table
from putback.sphinxext.tables import BOX
from putback.words import Language


def choices_of(machine: Machine, words: Language) -> own.facts:
    """Return each option with its choices."""
    found = own.facts()
    for option, choices in machine.options.items():
        found += fact(words.option(option), words.choices(choices))
    return found


def options(machine: Machine, words: Language) -> nodes.table | None:
    """Return how to tell which choices a machine has; None when the file does not say."""
    each = ((clause, text) for when, text in machine.told_by for clause in when.cases[0])
    said = {(clause.option.name, clause.choices[0].name): text for clause, text in each}
    rows: list[list[Cell]] = [
        [words.option(option), words.choices([choice]), said.get((option, choice), NONE)]
        for option, choices in machine.options.items()
        for choice in choices
        if any((option, other) in said for other in choices)
    ]
    labels = words.labels.machine
    heads = [labels.option, labels.choice, labels.how_to_tell]
    return table(heads, rows, (18, 18, 64), "options") if rows else None


def telling_apart(machine: Machine, words: Language, of: Collection[str]) -> nodes.table | None:
    """Return the same of some options, in the words that steps begin with, with a box for each; None for nothing."""
    rows: list[list[Cell]] = []
    for when, text in machine.told_by:
        option, choices = when.cases[0][0]
        known = machine.options.get(option.name, ())
        if option.name in of and len(known) > 1 and choices[0].name in known:
            rows.append([(words.only_when(when) or "").removesuffix("."), text, BOX])
    labels = words.labels.bench
    heads = [labels.built, words.labels.machine.how_to_tell, labels.mine]
    return table(heads, rows, (30, 60, 10), "options") if rows else None
