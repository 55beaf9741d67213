"""The ways in which machines of one model differ, and how to tell which one a machine is."""

from __future__ import annotations

from collections.abc import Collection

from docutils import nodes

from putback.model.machine import Machine
from putback.sphinxext import nodes as own
from putback.sphinxext.building import Cell, fact, table
from putback.words import Language


def choices_of(machine: Machine, words: Language) -> own.facts:
    """Return each option with its choices."""
    found = own.facts()
    for option, choices in machine.options.items():
        found += fact(words.option(option), words.choices(choices))
    return found


def options(machine: Machine, words: Language, of: Collection[str] | None = None) -> nodes.table | None:
    """Return how to tell which choices a machine has; with `of` only of those options, and with a box for each."""
    each = ((clause, text) for when, text in machine.told_by for clause in when.cases[0])
    said = {(clause.option.name, clause.choices[0].name): text for clause, text in each}
    rows: list[list[Cell]] = []
    for option, choices in machine.options.items():
        if any((option, choice) in said for choice in choices) and (of is None or option in of):
            for choice in choices:
                row: list[Cell] = [words.option(option), words.choices([choice]), said.get((option, choice), "–")]
                rows.append(row if of is None else [*row, "☐"])
    if not rows:
        return None
    labels = words.labels.machine
    heads, widths = [labels.option, labels.choice, labels.how_to_tell], (18, 18, 64)
    if of is None:
        return table(heads, rows, widths, "options")
    return table([*heads, words.labels.bench.mine], rows, (*widths, 10), "options")
