"""`putback supplies`: its answers, its forms, and names that nobody should write."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pypdf
import pytest

from putback.words.spreadsheet import COLUMNS, guarded
from tests.conftest import Putback, Write

MACHINE = """\
machine: Test pump
options: {deck: [narrow, wide]}
parts:
  pump: {}
  lid: {mass: 2 kg}
  seal: {number: TP-1, replace: always, kit: lid-kit, when: {deck: wide}}
  ring: {name: "=HYPERLINK(\\"x\\"), \\"of\\" brass", number: -1+2, kit: lid-kit}
kits:
  lid-kit: {name: "@lid, kit", contents: {seal: 1, ring: 2}}
"""
JOB = """\
job: "Renew, \\"the\\" ring"
steps:
  - replace: seal
    when: {deck: wide}
  - replace: ring
  - apply: grease
    to: lid
  - check: lid
    limit: dry
    otherwise:
      - stop: Do the job again.
"""
LOOK = "job: Look\nsteps:\n  - clean: lid\n  - {check: lid, limit: dry, otherwise: [{stop: Do the job again.}]}\n"


@pytest.fixture
def pump(write_guide: Write) -> Path:
    return write_guide(
        {
            "pump/machine.yaml": MACHINE,
            "pump/jobs/ring.yaml": JOB,
            "pump/jobs/look.yaml": LOOK,
            "pump/consumables.yaml": 'grease: {name: "+grease"}\n',
        }
    )


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_the_values_can_be_read_back(pump: Path, putback: Putback) -> None:
    answer = putback("supplies", "pump", "ring", "--format", "csv")
    assert (answer.code, answer.out.count("\r\n")) == (0, answer.out.count("\n"))
    found = rows(answer.out)
    assert list(found[0]) == list(COLUMNS)
    assert [(row["kind"], row["key"], row["count"], row["variants"]) for row in found] == [
        ("kit", "lid-kit", "1", "only with a wide deck"),
        ("part", "ring", "1", "only with a narrow deck"),
        ("consumable", "grease", "", ""),
    ]
    assert {row["jobs"] for row in found} == {"ring"}


def test_no_cell_is_a_formula(pump: Path, putback: Putback) -> None:
    found = rows(putback("supplies", "pump", "--format", "csv").out)
    cells = {cell for row in found for cell in row.values()}
    assert {"'@lid, kit", "'+grease"} <= cells
    assert not [cell for cell in cells if cell[:1] in set("=+-@")]


@pytest.mark.parametrize(
    ("cell", "safe"),
    [
        ("", ""), ("lid", "lid"), ("=1+1", "'=1+1"), ("-1", "'-1"), ("  @x", "'  @x"), ("＝1", "'＝1"),
        ("\t=1", "\\x09=1"), ("a\x1b[2J", "a\\x1b[2J"),
    ],
)  # fmt: skip
def test_a_cell_that_would_be_a_formula_is_guarded(cell: str, safe: str) -> None:
    assert guarded(cell) == safe


def test_the_list_in_words(pump: Path, putback: Putback) -> None:
    answer = putback("supplies", "pump", "ring", "--variant", "deck=wide")
    assert answer.code == 0
    assert answer.out.split("\n") == [
        "Shopping list: Test pump",
        'For: Renew, "the" ring',
        "Only for: Deck = wide",
        "",
        "Kits",
        "  1  @lid, kit  (left over: one =HYPERLINK(\"x\"), \"of\" brass)",
        "",
        "Consumables",
        "  +grease",
        "",
        "Each job counts once. Parts and fluids are added up; tools, equipment and consumables serve all jobs.",
        "",
    ]  # fmt: skip


def test_a_job_that_needs_nothing_and_a_file_in_place_of_a_name(pump: Path, putback: Putback) -> None:
    assert putback("supplies", "pump", "look").out.endswith("\n\nNothing is needed.\n")
    assert putback("supplies", "pump/jobs/look.yaml").out == putback("supplies", "pump", "look").out


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("pump", "rng"), "Error: pump has no job 'rng'; did you mean 'ring'?\n"),
        (("pump", "valves"), "Error: pump has no job 'valves'; it has look, ring\n"),
        (("pumpe",), "Error: 'pumpe' does not exist; did you mean 'pump'?\n"),
        (("pump", "--variant", "deck=wde"), "Error: option 'deck' of pump has no choice 'wde'; did you mean 'wide'?\n"),
        (("pump", "--format", "pdf"), "Error: --format pdf needs --out FILE\n"),
        (("pump", "--out", "list.txt"), "Error: --out is for --format csv and pdf\n"),
        (
            ("pump", "--format", "csv", "--out", "pump/machine.yaml"),
            "Error: 'pump/machine.yaml' is there and is no list of supplies; name another file\n",
        ),
        (("pump", "--format", "csv", "--out", "no/list.csv"), "Error: 'no/list.csv' cannot be written: "),
    ],
)
def test_a_wrong_call(args: tuple[str, ...], said: str, pump: Path, putback: Putback) -> None:
    before = (pump / "machine.yaml").read_bytes()
    answer = putback("supplies", *args)
    assert answer.code == 2
    assert said in answer.err
    assert (pump / "machine.yaml").read_bytes() == before


def test_only_errors_that_matter_for_the_list_stop_it(pump: Path, putback: Putback) -> None:
    (pump / "jobs" / "off.yaml").write_text("job: Off\nsteps:\n  - remove: lid\n", encoding="utf-8")
    assert putback("supplies", "pump", "ring").code == 0
    answer = putback("supplies", "pump", "off")
    assert (answer.code, answer.out) == (1, "")
    assert answer.err.endswith("\npump has no list: fix the errors first\n")
    assert putback("supplies", "pump").code == 1
    (pump / "jobs" / "off.yaml").write_text("job: [\n", encoding="utf-8")
    assert putback("supplies", "pump", "ring").code == 0
    assert putback("supplies", "pump", "off").code != 0


def test_the_printed_list_can_be_read_and_made_again(pump: Path, putback: Putback) -> None:
    for _ in range(2):
        answer = putback("supplies", "pump", "--format", "pdf", "--out", "list.pdf", "--paper", "letter")
        assert (answer.code, answer.out) == (0, "made list.pdf\n")
    read = pypdf.PdfReader("list.pdf")
    text = " ".join(page.extract_text() for page in read.pages)
    assert "Shopping list: Test pump" in text
    assert "+grease" in text
    assert [float(side) for side in read.pages[0].mediabox[2:]] == [612, 792]
    made = Path("list.pdf").read_bytes()
    assert putback("supplies", "pump", "--format", "pdf", "--out", "again.pdf", "--paper", "letter").code == 0
    assert Path("again.pdf").read_bytes() == made
