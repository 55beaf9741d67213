"""What the press is spared: nothing is measured that cannot matter."""

from __future__ import annotations

from docutils import nodes
from sphinx import addnodes

from putback.sphinxext import nodes as own
from putback.sphinxext.paper.steps import closes


def test_a_table_is_not_kept_with_the_block_to_sign_of_the_next_page() -> None:
    """It was measured row by row, at a place that moved with what it measured."""
    table, counted = nodes.table(), nodes.table()
    machine = addnodes.start_of_file("", nodes.section("", table))
    job = addnodes.start_of_file("", nodes.section("", nodes.section("", counted), nodes.section("", own.signoff())))
    nodes.section("", machine, job)
    assert closes(counted)
    assert not closes(table)
