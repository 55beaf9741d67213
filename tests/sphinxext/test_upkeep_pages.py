"""The schedule, the card and the symptom table on pages of prose; what the sign-off has of an interval."""

from __future__ import annotations

import re
import subprocess
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from putback.guide.hours import counts_hours
from putback.guide.reading import read_guide
from tests.conftest import Putback
from tests.sphinxext.projects import JOB, MACHINE, build, write

LOOK = """\
job: {title}
interval: {interval}
steps:
  - inspect: lid
    for: [a crack, a bent edge]
    otherwise:
      - stop: Renew it.
"""

DAILY = """\
job: Daily checks
interval: before each use
steps:
  - caution: sharp
  - note: With the pump stopped.
  - check: oil
    limit: between the marks
    otherwise:
      - fill: oil
        volume: 20 ml
      - stop: Then do {job seal}.
  - inspect: guard
    for: cracks
    otherwise:
      - stop: Renew it.
  - measure: gap at the lid
    limit: 0.1 mm .. 0.2 mm
    outcomes:
      - found: "> 0.2 mm"
        steps: [{stop: Renew the seal.}]
      - found: "< 0.1 mm"
        steps: [{stop: Call somebody.}]
"""

FOLLOW = """\
follow-ups:
  - after: 2 h
    when: {drive: belt}
    steps:
      - measure: gap at the lid
        limit: "<= 0.2 mm"
        otherwise: [{stop: Do the job again.}]
  - after: the first trip
    steps:
      - act: Shake the lid by hand.
        on: lid
  - after: 10 h
    steps:
      - measure: gap at the lid
        limit: "<= 0.2 mm"
        otherwise: [{stop: Do the job again.}]
      - tighten: lid-screws
        once-more: true
"""

SYMPTOMS = """\
dry:
  sign: No oil comes.
  causes:
    - cause: The level is low.
      check: Look at the glass, see {step gap of seal}.
      job: seal
      mend: Then ask a professional.
    - cause: The belt slips.
      check: Listen.
      mend: Have it renewed.
      when: {drive: belt}
noise:
  sign: It howls
  when: {drive: gear}
  causes:
    - {cause: Dry gears., check: Listen., job: seal}
"""

PAGE = """\
# Upkeep

```{putback-schedule}
```

```{putback-card} daily
```

```{putback-symptoms}
```
"""

FILES = {
    "guide.yaml": "title: Test pump\n",
    "machine.yaml": MACHINE.replace("order: crosswise}", "order: crosswise, retighten-after: 10 h}"),
    "jobs/seal.yaml": JOB.replace(
        "{hours: 300, months: 24}", "{first: {hours: 20, months: 1}, hours: 300, years: 2}"
    ).replace('limit: "<= 0.2 mm"', 'name: gap\n        limit: "<= 0.2 mm"')
    + FOLLOW,
    "jobs/daily.yaml": DAILY,
    "jobs/store.yaml": LOOK.format(title="Lay it up", interval="before storage"),
    "jobs/often.yaml": LOOK.format(
        title="Look at the lid", interval="{hours: 50, months: 3 .. 6, also: after a flood.}"
    ),
    "jobs/once.yaml": LOOK.format(title="Look once", interval="{first: {hours: 25}}"),
    "jobs/far.yaml": LOOK.format(title="Look on the road", interval="{km: 5000}"),
    "symptoms.yaml": SYMPTOMS,
    "cautions.yaml": "sharp: {signal: caution, hazard: Its edge is sharp., avoid: [Wear gloves.], covers: []}\n"
    "running-engine: {signal: warning, hazard: It turns., avoid: [Stand back.], covers: []}\n",
    "upkeep.md": PAGE,
    "index.md": "# Book\n\n```{toctree}\nupkeep\nmachine\njobs/daily\njobs/seal\njobs/store\njobs/often\njobs/once\n"
    "jobs/far\n```\n",
}


def plain(markup: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", markup)).replace("’", "'").split()).replace(" .", ".")


def tables_of(page: str) -> list[list[list[str]]]:
    """Return the cells of each table of a page, by rows."""
    return [
        [[plain(cell) for cell in re.findall(r"<t[hd].*?</t[hd]>", row, re.DOTALL)] for row in table.split("<tr")[1:]]
        for table in re.findall(r"<table.*?</table>", page, re.DOTALL)
    ]


def page_of(root: Path, files: dict[str, str], **settings: Any) -> str:
    write(root, files)
    _, warnings = build(root, putback_lint=False, **settings)
    assert warnings == ""
    return (root / "_build/html/upkeep.html").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return the page of all three."""
    return page_of(tmp_path_factory.mktemp("book"), FILES)


def test_the_schedule_has_each_use_first_then_hours_then_the_rest(page: str) -> None:
    schedule = tables_of(page)[0]
    assert schedule == [
        ["Job", "When", "First after", "Then every", "Or every"],
        ["Daily checks", "Before each use", "–", "–", "–"],
        ["Look at the lid", "After a flood", "–", "50 running hours", "3 to 6 months"],
        ["Renew the seal", "–", "20 running hours or 1 month", "300 running hours", "2 years"],
        ["Look on the road", "–", "–", "5000 km", "–"],
        ["Lay it up", "Before storage", "–", "–", "–"],
        ["Look once", "–", "25 running hours, once", "–", "–"],
    ]
    assert "the job is due at whichever comes first" in page


def test_where_all_is_due_by_the_calendar_its_column_has_no_or(tmp_path: Path) -> None:
    looks = {name: LOOK.format(title=name[5:-5], interval="{months: 12}") for name in FILES if name.startswith("jobs/")}
    page = page_of(tmp_path, FILES | looks)
    assert tables_of(page)[0][:2] == [["Job", "Every"], ["daily", "12 months"]]


def test_what_is_due_after_jobs_stands_below_it(page: str) -> None:
    assert tables_of(page)[1] == [
        ["Job", "Due", "What"],
        ["Renew the seal", "Only with belt drive. After 2 running hours", "Gap at the lid"],
        ["Renew the seal", "After the first trip", "Shake the lid by hand."],
        ["Renew the seal", "After 10 running hours", "Lid screws"],
    ]


def test_a_card_has_a_row_and_a_box_for_each_step(page: str) -> None:
    assert "Caution: Its edge is sharp." in plain(page).replace("CAUTION", "Caution")
    assert tables_of(page)[2] == [
        ["Step", "If it is not right", "Done"],
        [
            "Check that the pump oil is between the marks.",
            "Fill with pump oil : ISO VG 46, 20 ml (0.68 US fl oz). Stop here. Then do “Renew the seal”.",
            "",
        ],
        ["Only with belt drive. Inspect the belt guard for cracks.", "Stop here. Renew it.", ""],
        [
            "Measure the gap at the lid: it must be 0.1–0.2 mm (0.0039–0.0079 in).",
            "If the value is more than 0.2 mm (0.0079 in): Stop here. Renew the seal. "
            "If the value is less than 0.1 mm (0.0039 in): Stop here. Call somebody.",
            "",
        ],
    ]
    assert page.count('type="checkbox"') == 3


def test_the_symptom_table_has_a_heading_for_each_sign(page: str) -> None:
    signs = re.findall(r'<h2[^>]*class="rubric"[^>]*>(.*?)</h2>|<p class="rubric"[^>]*>(.*?)</p>', page, re.DOTALL)
    assert [plain("".join(sign)) for sign in signs] == ["No oil comes", "Only with gear drive. It howls"]
    assert tables_of(page)[3:] == [
        [
            ["Likely cause", "Check", "Remedy"],
            [
                "The level is low.",
                "Look at the glass, see step 9 of “Renew the seal”.",
                "Renew the seal Then ask a professional.",
            ],
            ["Only with belt drive. The belt slips.", "Listen.", "Have it renewed."],
        ],
        [["Likely cause", "Check", "Remedy"], ["Dry gears.", "Listen.", "Renew the seal"]],
    ]


def test_a_manual_of_one_variant_has_its_own_signs(tmp_path: Path) -> None:
    page = page_of(tmp_path, FILES, putback_variant={"drive": "gear"})
    assert "belt" not in plain(page[page.index("<main") :])
    assert "It howls" in page


def test_a_schedule_has_only_the_columns_that_are_needed(tmp_path: Path) -> None:
    few = {name: text for name, text in FILES.items() if name in ("guide.yaml", "machine.yaml", "jobs/store.yaml")}
    few["upkeep.md"] = "# Upkeep\n\n```{putback-schedule}\n```\n\n```{putback-symptoms}\n```\n"
    page = page_of(tmp_path, few, root_doc="upkeep", suppress_warnings=["toc.not_included"])
    assert tables_of(page) == [[["Job", "When"], ["Lay it up", "Before storage"]]]
    assert "This guide has no symptom table." in page


def test_signs_are_headings_below_the_one_above_them(tmp_path: Path) -> None:
    text = "# Upkeep\n\n## Signs\n\n```{putback-symptoms}\n```\n\n### More\n\n```{putback-symptoms}\n```\n"
    write(tmp_path, FILES | {"upkeep.md": text})
    build(tmp_path, putback_lint=False)
    page = (tmp_path / "_build/html/upkeep.html").read_text(encoding="utf-8")
    assert re.findall(r"<h(\d)[^>]*class=\"rubric\"", page) == ["3", "3", "4", "4"]


def test_a_card_of_no_job_is_told_at_its_line(tmp_path: Path) -> None:
    write(tmp_path, FILES | {"upkeep.md": "# Upkeep\n\n```{putback-card} dayly\n```\n"})
    _, warnings = build(tmp_path, putback_lint=False)
    assert "upkeep.md:3: ERROR: 'putback-card': this guide has no job 'dayly'" in warnings


def test_the_page_is_made_anew_when_a_sign_changes_and_no_job_is(tmp_path: Path) -> None:
    page_of(tmp_path, FILES)
    job = tmp_path / "_build/html/jobs/daily.html"
    before = job.stat().st_mtime_ns
    page = page_of(tmp_path, {"symptoms.yaml": SYMPTOMS.replace("It howls", "It sings")})
    assert "It sings" in page
    assert job.stat().st_mtime_ns == before


def test_the_sign_off_says_when_a_job_is_due_next(tmp_path: Path) -> None:
    page_of(tmp_path, FILES)

    def next_due(name: str) -> list[str]:
        page = (tmp_path / f"_build/html/jobs/{name}.html").read_text(encoding="utf-8")
        return re.findall(r">(Next due[^<]*)<", page)

    assert next_due("seal") == [
        "Next due in 300 running hours, at (hours)",
        "Next due in 2 years, on (date)",
    ]
    assert next_due("far") == ["Next due in 5000 km, at (km)"]
    assert next_due("daily") == []
    text = plain((tmp_path / "_build/html/jobs/seal.html").read_text(encoding="utf-8"))
    said = "Due first after 20 running hours or 1 month, then every 300 running hours or 2 years, whichever comes first"
    assert said in text


def test_a_card_and_a_sign_are_kept_on_one_sheet(tmp_path: Path) -> None:
    """They stand low on the sheet, and go to the next one as a whole, the heading with them."""
    checks = "\n".join(
        f"  - check: place {at}\n    limit: dry\n    otherwise: [{{stop: Call somebody at once.}}]" for at in range(14)
    )
    page = "# Upkeep\n\n" + "Words.\n\n" * 30 + "## The card\n\n```{putback-card} daily\n```\n"
    write(tmp_path, FILES | {"jobs/daily.yaml": f"job: Daily\nsteps:\n{checks}\n", "upkeep.md": page})
    _, warnings = build(tmp_path, "typstpdf", putback_lint=False)
    assert warnings == ""
    [pdf] = (tmp_path / "_build/typstpdf").glob("*.pdf")
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    sheets = done.stdout.decode("utf-8").split("\f")
    [sheet] = [sheet for sheet in sheets if "place 0" in sheet and "If it is not right" in sheet]
    assert all(f"place {at} is dry" in sheet for at in range(14))
    assert "The card" in sheet


def test_a_machine_that_nothing_runs_has_no_hours_to_write_down(tmp_path: Path, putback: Putback) -> None:
    ran = putback("build", "procedures/sessel-w15", "--to", "html", "--out", str(tmp_path))
    assert ran.code == 0, ran.err
    text = plain((tmp_path / "html" / "jobs" / "brake.html").read_text(encoding="utf-8"))
    assert "Done on (date)" in text
    assert "unning hours" not in text
    for name in ("hollin-20", "ambry-g5", "tarrick-d2"):
        assert counts_hours(read_guide(Path("procedures") / name))


def test_hours_are_counted_where_a_job_is_due_by_them(tmp_path: Path) -> None:
    page_of(tmp_path, FILES)
    assert "Running hours" in plain((tmp_path / "_build/html/jobs/daily.html").read_text(encoding="utf-8"))


def test_a_schedule_is_kept_on_one_sheet(tmp_path: Path) -> None:
    """Else its head and one row stood at the foot of a sheet."""
    looks = {
        f"jobs/look-{at}.yaml": LOOK.format(title=f"Look at place {at}", interval=f"{{hours: {at + 1}00, months: 12}}")
        for at in range(12)
    }
    listed = FILES["index.md"].replace("jobs/far\n", "".join(f"jobs/look-{at}\n" for at in range(12)))
    page = "# Upkeep\n\n" + "Words.\n\n" * 32 + "## The schedule\n\nIn hours.\n\n```{putback-schedule}\n```\n"
    kept = {name: text for name, text in FILES.items() if name in ("guide.yaml", "machine.yaml", "cautions.yaml")}
    listed = "# Book\n\n```{toctree}\nupkeep\nmachine\n" + "".join(f"jobs/look-{at}\n" for at in range(12)) + "```\n"
    write(tmp_path, kept | looks | {"upkeep.md": page, "index.md": listed})
    _, warnings = build(tmp_path, "typstpdf", putback_lint=False)
    assert warnings == ""
    [pdf] = (tmp_path / "_build/typstpdf").glob("*.pdf")
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    sheets = done.stdout.decode("utf-8").split("\f")
    [sheet] = [sheet for sheet in sheets if "Look at place 0 " in sheet and "Or every" in sheet]
    assert all(f"Look at place {at} " in sheet for at in range(12))
    assert "The schedule" in sheet
    assert "In hours." in sheet
