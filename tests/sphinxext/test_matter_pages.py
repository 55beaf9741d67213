"""The index and the tables at the back of a book, on screen and on paper."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from putback.starter import start_guide
from tests.sphinxext.projects import GUIDE, JOB, MACHINE, build, write
from tests.sphinxext.test_upkeep_pages import plain, tables_of

FILES = {
    "guide.yaml": """\
title: Test pump
revisions:
  - {edition: 2, date: 2026-05-01, changes: ["{job seal} has another torque."]}
  - {edition: First, date: 2026-03-01, changes: [First printed.]}
""",
    "machine.yaml": MACHINE.replace("seal: {name: seal,", "seal: {name: seal, kit: seal-kit,").replace(
        "  pump: {}\n", "  pump: {wear: {measure: play of the shaft, limit: '<= 2 mm'}}\n"
    )
    + "kits: {seal-kit: {name: seal kit, number: TP-9}}\n",
    "jobs/seal.yaml": JOB.replace("{hours: 300", "{first: {hours: 20}, hours: 300"),
    "cautions.yaml": "running-engine: {signal: warning, hazard: It turns., avoid: [Stand back.], "
    "covers: [running-engine]}\n",
    "index.md": "# Book\n\n```{toctree}\nback\nmachine\njobs/seal\n```\n",
    "back.md": "# Back\n\n"
    + "".join(
        f"```{{putback-{name}}}\n```\n\n"
        for name in ("calendar", "variants", "kits", "wear", "revisions", "index", "torques")
    ),
}


def html(root: Path, page: str) -> str:
    return (root / "_build" / "html" / f"{page}.html").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("matter")
    write(root, FILES)
    _, warnings = build(root, putback_lint=False)
    assert warnings == ""
    return root


def test_the_tables_say_what_the_files_say(project: Path) -> None:
    hours, months, differ, kits, wear, revisions, *_ = tables_of(html(project, "back"))
    assert hours == [["Job", "20 h", "300 h"], ["Renew the seal", "first", "■"]]
    assert months == [["Job", "24 months"], ["Renew the seal", "■"]]
    assert differ == [["Job", "Machines", "Steps"], ["Renew the seal", "Only with belt drive", "8"]]
    assert kits == [["Kit", "What is in it", "Used in"], ["seal kit (TP-9)", "Seal, TP-1", "Renew the seal"]]
    head = ["Part", "What is measured", "Limit", "In job"]
    assert wear == [head, ["Pump", "Play of the shaft", "≤ 2 mm (≤ 0.08 in)", "–"]]
    assert revisions == [
        ["Edition", "What changed"],
        ["Edition 2 2026-05-01", "“Renew the seal” has another torque."],
        ["First 2026-03-01", "First printed."],
    ]


def test_the_index_leads_to_the_steps_and_to_where_a_thing_is_described(project: Path) -> None:
    page = html(project, "back")
    listed = page[page.index('class="index-list') :]
    entries = listed.split('<div class="index-entry')[1:]
    seal = next(part for part in entries if ">Seal<" in part)
    assert plain(re.split(r"<(?:h2|p)[^>]*rubric", seal)[0]) == '"> Seal Renew the seal : off 3 , on 4'
    assert 'href="machine.html#seal-thing"' in seal
    number = re.search(r'href="(jobs/seal\.html#[^"]+)"[^>]*>(?:<[^>]+>)*3<', seal)
    assert number is not None
    anchor = number[1].partition("#")[2]
    job = html(project, "jobs/seal")
    assert "Remove the seal" in plain(job[job.index(f'id="{anchor}"') :])[:80]
    # The torque table of this page is the only one, and it is where the screws are described.
    screws = next(part for part in entries if ">Lid screws<" in part)
    assert 'href="#lid-screws-thing"' in screws
    assert "tightened 7" in plain(screws)
    assert "9 N·m" not in plain(html(project, "machine"))
    assert 'href="back.html#lid-screws-thing"' in html(project, "machine")
    assert 'class="to-index" href="#" aria-current="page"' in page.replace("\n", " ").replace("        ", " ")


def test_a_table_that_leaves_a_page_is_on_the_page_of_the_machine_again(tmp_path: Path) -> None:
    write(tmp_path, FILES)
    build(tmp_path, putback_lint=False)
    write(tmp_path, {"back.md": "# Back\n"})
    app, _ = build(tmp_path, putback_lint=False)
    assert "9 N·m" in plain(html(tmp_path, "machine")).replace("\N{NO-BREAK SPACE}", " ")
    assert app.env.get_domain("putback").data["objects"]["", "thing", "lid-screws"][0] == "machine"


def sheets_of(pdf: Path) -> list[str]:
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8").split("\f")


def made(root: Path, out: Path) -> dict[str, str]:
    """Make the book of a guide; return its pages of HTML, and the PDF as text."""
    done = build_manual(open_guide(read_guide(root)), ["html", "pdf"], out)
    assert [line for line in done.warnings if "document isn't included" not in line] == []
    pages = {path.relative_to(out / "html").as_posix(): path.read_text("utf-8") for path in out.rglob("*.html")}
    [pdf] = out.glob("*.pdf")
    return pages | {f"sheet {at}": sheet for at, sheet in enumerate(sheets_of(pdf), 1)}


def test_a_book_has_at_its_end_what_none_of_its_pages_shows(tmp_path: Path) -> None:
    root = tmp_path / "pump"
    write(root, FILES | {"back.md": "# Back\n\n```{putback-kits}\n```\n"})
    pages = made(root, tmp_path / "out")
    headings = re.findall(r"<h2[^>]*>(.*?)<", pages["reference-tables.html"])
    assert headings == ["When each job is due", "What falls due together", "Steps that differ", "Wear limits",
                        "Editions of this book"]  # fmt: skip
    assert "genindex.html" not in pages
    [index] = [text for name, text in pages.items() if name.startswith("sheet") and "The numbers are pages" in text]
    step = next(name for name, text in pages.items() if name.startswith("sheet") and "Remove the seal." in text)
    assert re.search(rf"off {step.removeprefix('sheet ')}, on \d", " ".join(index.split()))
    # The edition of the newest revision is that of the book.
    assert "Edition 2 · 2026-05-01" in pages["sheet 1"]


def test_a_page_of_an_author_keeps_the_index_where_it_is(tmp_path: Path) -> None:
    root = tmp_path / "pump"
    write(root, FILES)
    pages = made(root, tmp_path / "out")
    assert "index-of-things.html" not in pages
    # One table alone needs no page of tables around it.
    assert re.findall(r"<h[12][^>]*>(.*?)<", pages["reference-tables.html"]) == ["When each job is due"]


def test_a_new_guide_has_an_index_of_which_its_author_knows_nothing(tmp_path: Path) -> None:
    start_guide(tmp_path / "mill")
    pages = made(tmp_path / "mill", tmp_path / "out")
    assert "Tools and equipment" in plain(pages["index-of-things.html"])
    assert any("The numbers are pages" in text for name, text in pages.items() if name.startswith("sheet"))


def index_below(html: str, name: str) -> list[tuple[str, str]]:
    """Return what stands below an entry of the general index: its words and its address."""
    [below] = re.findall(rf"<li>(?:<a [^>]*>)?{name}(?:</a>)?[^<]*<ul>(.*?)</ul>", html, re.DOTALL)
    return [(words, address) for address, words in re.findall(r'<a href="([^"]*)">([^<]*)</a>', below)]


def test_the_general_index_of_another_project_leads_to_the_steps(tmp_path: Path) -> None:
    write(tmp_path, GUIDE)
    build(tmp_path)
    html = (tmp_path / "_build/html/genindex.html").read_text("utf-8")
    assert index_below(html, "Seal") == [
        ("Renew the seal: off 3", "jobs/seal.html#seal-step-3"),
        ("Renew the seal: on 4", "jobs/seal.html#seal-step-4"),
    ]
    job = (tmp_path / "_build/html/jobs/seal.html").read_text("utf-8")
    assert all(f'id="{address.partition("#")[2]}"' in job for _, address in index_below(html, "Lid screws"))


def test_steps_of_the_general_index_are_in_order_and_a_semicolon_parts_nothing(tmp_path: Path) -> None:
    more = "".join(f"      - note: number {at}\n      - inspect: guard\n" for at in range(12))
    job = GUIDE["jobs/seal.yaml"].replace("job: Renew the seal", "job: Renew; the seal")
    job = job.replace("      - inspect: guard\n        note: Look for cracks.\n", more)
    write(tmp_path, GUIDE | {"jobs/seal.yaml": job})
    build(tmp_path)
    html = (tmp_path / "_build/html/genindex.html").read_text("utf-8")
    below = [words for words, _ in index_below(html, "Belt guard")]
    assert below == [f"Renew, the seal: looked at {at}" for at in range(8, 20)]


def test_a_cell_beside_a_tall_one_has_the_label_of_its_column(tmp_path: Path) -> None:
    rows = (
        "+-----+----------+-------+",
        "| Job | Machines | Steps |",
        "+=====+==========+=======+",
        "| oil | belt     | 12    |",
        "|     +----------+-------+",
        "|     | gear     | 13    |",
        "+-----+----------+-------+",
        "| cap | belt     | 14    |",
        "+-----+----------+-------+",
        "| lid | It stays on.     |",
        "+-----+------------------+",
    )
    told = "```{eval-rst}\n.. table::\n   :class: putback\n\n" + "".join(f"   {row}\n" for row in rows) + "```\n"
    write(tmp_path, {**FILES, "index.md": f"# Book\n\n{told}\n```{{toctree}}\nback\nmachine\njobs/seal\n```\n"})
    build(tmp_path, putback_lint=False)
    found = re.findall(r'data-label="(\w+)"><p>(\w+)<', html(tmp_path, "index"))
    steps = [("Machines", "belt", "12"), ("Machines", "gear", "13"), ("Machines", "belt", "14")]
    assert found == [cell for head, which, step in steps for cell in ((head, which), ("Steps", step))]
