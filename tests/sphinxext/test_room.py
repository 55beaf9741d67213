"""Tables and branches take no more room on paper than what they say needs."""

from __future__ import annotations

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.sphinxext.building import NONE, REMARK, Noted, paragraph, table
from putback.sphinxext.paper.steps import MOST_LINES, is_short


def rows_of(made: nodes.table) -> list[list[tuple[str, int, int]]]:
    return [
        [(cell.astext(), cell.get("morecols", 0), cell.get("morerows", 0)) for cell in row.findall(nodes.entry)]
        for body in made.findall(nodes.tbody)
        for row in body.findall(nodes.row)
    ]


def test_a_remark_stands_in_place_of_cells_that_say_nothing() -> None:
    rows = [
        Noted(["lid", NONE, NONE], "Of brass."),
        Noted(["seal", "TP-1", NONE], "Fit it dry."),
        Noted(["nut", NONE, NONE], NONE),
    ]
    made = table(["Part", "Number", "Kit"], rows, (1, 1, 1))
    assert rows_of(made) == [
        [("lid", 0, 0), ("Of brass.", 1, 0)],
        [("seal", 0, 1), ("TP-1", 0, 0), (NONE, 0, 0)],
        [("Fit it dry.", 1, 0)],
        [("nut", 0, 0), (NONE, 0, 0), (NONE, 0, 0)],
    ]
    assert [REMARK in row["classes"] for row in made.findall(nodes.row)] == [False, False, False, True, False]


def branch(steps: int, *remarks: str) -> own.otherwise:
    made = own.otherwise()
    for _ in range(steps):
        made += own.step("", own.step_text("", "Clean it."), *(paragraph(remark) for remark in remarks))
    return made


def test_a_branch_of_many_steps_may_go_on_overleaf() -> None:
    assert is_short(branch(MOST_LINES))
    assert not is_short(branch(MOST_LINES + 1))
    assert not is_short(branch(MOST_LINES // 2 + 1, "Tool: brush."))
