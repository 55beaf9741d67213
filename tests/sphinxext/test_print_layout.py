"""Where things stand on a printed page: nothing runs into anything else, nothing stands apart from what it is of."""

from __future__ import annotations

from pathlib import Path

import pytest
import typst
from click.testing import CliRunner
from docutils import nodes

from putback.cli import cli
from putback.sphinxext import nodes as own
from tests.browser.long_guide import LONGEST_NUMBER, LONGEST_WORD, write_long_guide
from tests.printed import layout_faults, sheets_of, words_of

from .conftest import Build, Manual, bullets, otherwise, para, section, setup_block, step, steps, table, torque


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_guide_with_long_words_keeps_them_in_their_places(tmp_path: Path, paper: str) -> None:
    guide = write_long_guide(tmp_path)
    out = tmp_path / "out"
    asked = ["build", str(guide), "--to", "pdf", "--paper", paper, "--draft", "--out", str(out)]
    CliRunner().invoke(cli, asked)
    assert layout_faults(out / f"long-haul-{paper}.pdf") == []


COUNT = ["12 N·m (8.9 lbf·ft)", "M10 × 1.25", LONGEST_WORD, LONGEST_NUMBER, "0.0123456789012345", "clean and dry"]
"""What is short, what has no place to break, and what is longer than any column."""


@pytest.mark.parametrize("columns", [2, 5, 8, 12])
def test_no_cell_runs_into_the_next(manual: Build, columns: int) -> None:
    rows = [[COUNT[(row + at) % len(COUNT)] for at in range(columns)] for row in range(30)]
    book = manual(
        {"index.rst": "Guide\n=====\n\nWords.\n\n.. made:: page\n"},
        {"page": lambda: [section("Torques", table(["Torque beside condition"] * columns, rows))]},
    )
    assert layout_faults(book.pdf) == []
    shown = book.text.replace(" ", "").replace("-", "")
    # In narrower columns they are broken, and the lines of several cells stand in one line of the text.
    assert columns > 5 or all(word.replace(" ", "").replace("-", "") in shown for word in COUNT[:2])


def test_a_torque_in_a_table_stands_on_one_line(manual: Build) -> None:
    rows = [["A long name of a joint that would take all the room of the page if it were let", "dry", "x"]] * 5
    whole = table(["Joint", "Threads", "Torque"], rows)
    for entry in list(whole.findall(nodes.entry)):
        if entry.astext() == "x":
            words = [nodes.Text("to "), torque("118 N·m (87 lbf·ft)"), nodes.Text(", then on to the next of them")]
            entry.children = [nodes.paragraph("", "", *words)]
    book = manual(
        {"index.rst": "Guide\n=====\n\nWords.\n\n.. made:: page\n"}, {"page": lambda: [section("Torques", whole)]}
    )
    lines = [" ".join(word for word, _ in line) for sheet in sheets_of(book.pdf) for line in sheet.lines]
    assert len([line for line in lines if "118 N·m (87 lbf·ft)" in line]) == 5


def _job(length: int, rows: int) -> list[nodes.Node]:
    """Return a job of so many steps, of which some have a branch, and so many rows to count."""
    numbered = []
    for at in range(length):
        rest = (otherwise("If not:", step(f"{at + 1}a", "Stop here.")),) if at % 3 == 0 else ()
        numbered.append(step(str(at + 1), "Remove the cover.", *rest))
    sign = own.signoff()
    sign += [own.blank(label=label, unit="") for label in ("Machine", "Running hours", "Date", "Name", "Signature")]
    lines = [[f"piece {at}", "1", "1", "☐"] for at in range(rows)]
    return [
        section("Make safe", para("Stand the machine level."), steps(*numbered)),
        section("Count back", para("Count what went back."), table(["Piece", "Out", "Back", "Counted"], lines)),
        section("Sign-off", sign),
    ]


def _jobs(manual: Build, sizes: list[tuple[int, int]], paper: str) -> Manual:
    names = [f"job-{length}-{rows}" for length, rows in sizes]
    files: dict[str, str | bytes] = {f"{name}.rst": f"{name}\n{'=' * 20}\n\n.. made:: {name}\n" for name in names}
    files["index.rst"] = "Guide\n=====\n\n.. toctree::\n\n" + "".join(f"   {name}\n" for name in names)
    made = {name: lambda size=size: _job(*size) for name, size in zip(names, sizes, strict=True)}
    return manual(files, made, putback_paper=paper)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("rows", [2, 14, 33])
def test_nothing_stands_apart_wherever_the_page_ends(manual: Build, rows: int, paper: str) -> None:
    """However many steps come before: the sign-off is not alone, a branch follows its test, no page is nearly empty."""
    book = _jobs(manual, [(length, rows) for length in range(8, 26)], paper)
    assert layout_faults(book.pdf) == []
    assert book.text.count("Stop here.") == sum(-(-length // 3) for length in range(8, 26))


def test_what_is_said_before_the_first_step_stays_with_it(manual: Build) -> None:
    def job(length: int) -> list[nodes.Node]:
        return [
            section("Take off", steps(*(step(str(at + 1), "Remove the cover.") for at in range(length)))),
            section("Make safe", steps(para("Stand it level."), step("98", "Set the switch to off."))),
        ]

    names = [f"job-{length}" for length in range(12, 24)]
    files: dict[str, str | bytes] = {f"{name}.rst": f"{name}\n{'=' * 20}\n\n.. made:: {name}\n" for name in names}
    files["index.rst"] = "Guide\n=====\n\n.. toctree::\n\n" + "".join(f"   {name}\n" for name in names)
    book = manual(files, {name: lambda at=at: job(at + 12) for at, name in enumerate(names)})
    for sheet in sheets_of(book.pdf)[2:]:
        words = [word for word, _ in sheet.body]
        assert ("level." in words) == ("98" in words)


def test_a_comma_stands_in_the_frame_of_its_torque(manual: Build) -> None:
    words = own.step_text("", "Tighten to ", torque("9 N·m (80 lbf·in)"), nodes.Text(", threads dry, then to "))
    words.extend([torque("18 N·m"), nodes.Text(".")])
    node = own.step("", words, number="1", box=True)
    book = manual(
        {"index.rst": "Guide\n=====\n\nWords.\n\n.. made:: page\n"}, {"page": lambda: [section("Close", steps(node))]}
    )
    assert "to 9 N·m (80 lbf·in), threads dry, then to 18 N·m." in book.text


# What is wrong is seen.


def _pressed(tmp_path: Path, body: str) -> list[str]:
    source, pdf = tmp_path / "page.typ", tmp_path / "page.pdf"
    margin = "#set page(margin: (left: 24mm, right: 20mm, top: 24mm, bottom: 20mm))\n#pagebreak(weak: false)\n"
    source.write_text(margin + body, "utf-8")
    typst.compile(str(source), output=str(pdf))
    return layout_faults(pdf)


TOLD = {
    '#stack(spacing: -6pt, "one", "two")': "words run into each other",
    "#table(columns: (9mm, 9mm), stroke: (x, y) => (left: if x > 0 { 0.3pt + luma(190) }), [Crankshaft], [])": (
        "stands across a line between columns"
    ),
    "#place(dx: 160mm)[Crankshaft]": "stands in the margin",
    "Words.\n#v(200mm)\nIf not:": "'If not:' is parted from what to do",
    "If not:\n\nStop.": "'If not:' is parted from its test",
    "Sign-off\n\nName": "the sign-off stands alone",
    "Words.\n#v(200mm)\n#text(size: 15pt)[Make safe]": "the heading 'Make safe' is parted",
    "Words.\n#pagebreak()\nMore.\n#pagebreak()\nLast.": "of the page is used",
}


@pytest.mark.parametrize("body", TOLD)
def test_what_is_badly_placed_is_told(tmp_path: Path, body: str) -> None:
    assert any(TOLD[body] in fault for fault in _pressed(tmp_path, body))


def _printed(manual: Build, made: list[list[nodes.Node]]) -> Manual:
    """Return a manual with a page for each of these."""
    names = [f"job-{at}" for at in range(len(made))]
    files: dict[str, str | bytes] = {f"{name}.rst": f"{name}\n{'=' * 20}\n\n.. made:: {name}\n" for name in names}
    files["index.rst"] = "Guide\n=====\n\n.. toctree::\n\n" + "".join(f"   {name}\n" for name in names)
    return manual(files, {name: lambda page=page: page for name, page in zip(names, made, strict=True)})


@pytest.mark.parametrize("within", [False, True])
def test_a_short_branch_is_not_parted_wherever_the_page_ends(manual: Build, within: bool) -> None:
    """ "Stop the engine" alone at the foot of a page would be read as the whole of the branch."""

    def job(length: int) -> list[nodes.Node]:
        stop = [step("98a", "Stop the engine."), step("98b", "Close the fuel tap."), step("98c", "Stop here.")]
        if within:
            stop[1] += otherwise("If not:", step("98ba", "Close the seacock."), step("98bb", "Call a workshop."))
        before = [step(str(at + 1), "Remove the cover.") for at in range(length)]
        return [steps(*before, step("98", "Check the joint: dry.", otherwise("If not:", *stop)), step("99", "Go on."))]

    book = _printed(manual, [job(length) for length in range(10, 24)])
    assert layout_faults(book.pdf) == []
    found = 0
    for sheet in sheets_of(book.pdf)[2:]:
        words = [word for word, _ in sheet.body]
        parts = [number in words for number in ("98", "98a", "98b", *(("98ba", "98bb") if within else ()), "98c")]
        assert len(set(parts)) == 1
        found += parts[0]
    assert found == 14


def test_a_long_branch_may_go_on_overleaf(manual: Build) -> None:
    inner = [step(f"9{at}", "Remove the cover.") for at in range(60)]
    book = _printed(manual, [[steps(step("8", "Check the joint: dry.", otherwise("If not:", *inner)))]])
    assert layout_faults(book.pdf) == []
    assert book.text.count("Remove the cover.") == 60


def test_a_line_does_not_break_at_the_dash_of_a_limit(manual: Build) -> None:
    limit = "0.18–0.22 mm (0.0071–0.0086 in)"

    def measured(at: int) -> nodes.Node:
        branch = otherwise(f"If the value {'x' * at} of the valve is outside {limit}:", para("Turn it."))
        return step(str(at + 1), f"Measure the clearance {'x' * at} of the valve of the cylinder: {limit}.", branch)

    told = table(["Part", "Limit"], [["Valve " * at, f"{'x' * at} valve {limit}"] for at in range(20)])
    tools = setup_block({}, section("Tools", bullets(*(f"{'x' * at} gauge, {limit}" for at in range(40)))))
    book = _printed(manual, [[tools, steps(*(measured(at) for at in range(40))), told]])
    words = [word for sheet in sheets_of(book.pdf) for word, _ in sheet.body]
    assert [word for word in words if word.endswith("–")] == []
    assert (words.count("0.18–0.22"), words.count("(0.0071–0.0086")) == (140, 140)


def test_a_word_that_has_room_in_its_column_is_not_parted(manual: Build) -> None:
    names = ["Selbstsichernde Befestigungsmuttern", "Sicherungsringe der Sperrklinken", "hexagonal attachment"]
    rows = [
        [f"{'x' * at} {name}", f"M10, {'8' * at}, Sechskant 17 mm", "–", "40 N·m"] for at in range(8) for name in names
    ]
    book = _printed(manual, [[table(["Element", "Größe, Antrieb", "Gewinde", "Drehmoment, Bedingung"], rows)]])
    words = [word for sheet in sheets_of(book.pdf) for word, _ in sheet.body]
    assert [word for word in words if word.endswith(("-", "\u2010"))] == []
    assert (words.count("Befestigungsmuttern"), words.count("Sechskant")) == (8, 24)


def test_a_line_to_sign_on_is_long_enough_whatever_stands_before_it(manual: Build) -> None:
    label = "Wieder fällig (+ 100 Betriebsstunden) bei (Stunden)"
    block = own.signoff()
    block += [own.blank(label=each, unit="") for each in ("Name", "Datum", label, "Unterschrift")]
    book = _printed(manual, [[section("Abnahme", block)]])
    # Beside it there is no room for a line: the label stands above it.
    places = {word: at for page in words_of(book.pdf) for word, at in page}
    assert places["(Stunden)"].bottom < places["Unterschrift"].top


def test_the_number_of_a_page_begins_a_line_where_words_do(manual: Build) -> None:
    chapters = {f"c{at}.rst": f"{'Chapter ' * 2}{'x' * at}\n{'=' * 40}\n\nWords.\n" for at in range(14)}
    rows = "".join(f"   * - :doc:`c{at}`\n     - {'word ' * 40}\n" for at in range(14))
    told = (
        "Guide\n=====\n\n.. list-table::\n   :header-rows: 1\n   :widths: 20 80\n\n   * - Head\n     - Other\n" + rows
    )
    files: dict[str, str | bytes] = {**chapters, "index.rst": f"{told}\n.. toctree::\n   :glob:\n\n   c*\n"}
    words = [word for page in words_of(manual(files, {}).pdf) for word in page]
    (left,) = (at.left for word, at in words if word == "Head")
    begin = [at.left for word, at in words if word.startswith("(page") and at.left < left + 15]
    assert begin
    assert all(abs(at - left) < 1 for at in begin)


def test_a_row_of_a_table_is_not_parted(manual: Build) -> None:
    rows = [[f"first{at}", "clean and dry " * 20 + f"last{at}"] for at in range(30)]
    book = _printed(manual, [[table(["Part", "Remarks"], rows)]])
    for sheet in sheets_of(book.pdf):
        words = [word for word, _ in sheet.body]
        assert [at for at in range(30) if (f"first{at}" in words) != (f"last{at}" in words)] == []


def test_a_row_taller_than_a_page_loses_nothing(manual: Build) -> None:
    book = _printed(manual, [[table(["Part", "Remarks"], [["first", "clean and dry " * 900 + "last"]])]])
    assert book.text.count("clean") == 900
    assert "last" in book.text
