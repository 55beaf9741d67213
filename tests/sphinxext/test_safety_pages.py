"""What pages say on safety: what to wear, waste, who may do a job and when to leave it, what to tighten once more."""

from __future__ import annotations

import re
import subprocess
from html import unescape
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from tests.sphinxext.projects import build, write

MACHINE = """\
machine: Test boiler
options:
  burner: [gas, oil]
parts:
  body: {}
  head: {}
  filter: {name: oil filter, replace: always, tags: [oil]}
  jet: {name: gas jet, tags: [gas], when: {burner: gas}}
fasteners:
  head-bolts: {name: head bolt, count: 6, thread: M8 x 1.25, secures: head, to: body, torque: 24 N·m, class: 8.8,
               retighten-after: 10 h,
               layout: "rows 2 x 3, 120 mm x 70 mm", order: from the middle}
  plug: {name: drain plug, thread: M10 x 1.0, to: body, torque: 20 N·m}
fluids:
  oil: {name: oil, volume: 2 l, drains: [plug], tags: [oil]}
"""

JOB = """\
job: Renew the filter
sections:
  - title: Apart
    steps:
      - caution: hot-oil
      - remove: plug
      - drain: oil
      - replace: filter
  - title: Together
    steps:
      - remove: filter
      - install: filter
        new: true
      - loosen: head-bolts
      - tighten: head-bolts
"""

LIBRARY = {
    "hazards.yaml": """\
oil-on-skin: {name: oil, signal-at-least: caution, tags: [oil], ppe: [oil-resistant gloves, apron],
              waste: Take old oil to a collection point.}
heat: {name: heat, signal-at-least: warning, tags: [hot], ppe: [heat-resistant gloves, eye protection]}
town-gas: {name: fuel gas, signal-at-least: danger, tags: [gas], licensed: true}
""",
    "cautions.yaml": """\
hot-oil: {signal: warning, hazard: The oil is hot., consequence: It burns skin., avoid: [Let it cool.],
          covers: [oil-on-skin, heat], ppe: [eye protection]}
""",
    "tools.yaml": "wrench: {name: torque wrench, range: 5 N·m .. 60 N·m}\n",
}

INDEX = "# Book\n\n```{toctree}\n:hidden:\nprose\nmachine\njobs/filter\n```\n\nWords.\n"


def plain(markup: str) -> str:
    return " ".join(
        unescape(re.sub(r"<[^>]+>", " ", markup)).replace("\N{NO-BREAK SPACE}", " ").replace("’", "'").split()
    )


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    """Return the folder of a guide, its library beside it."""
    root = tmp_path / "guides" / "boiler"
    write(root, {"guide.yaml": "title: Test boiler\n", "machine.yaml": MACHINE, "jobs/filter.yaml": JOB})
    write(root, {"index.md": INDEX, "prose.md": "# Prose\n"})
    write(tmp_path / "shared", LIBRARY)
    return root


def built(root: Path, *forms: str, paper: str = "a4") -> Path:
    guide = read_guide(root)
    assert guide.faults == ()
    out = root.parent / "out"
    assert build_manual(open_guide(guide), forms, out, paper=paper).warnings == []
    return out


def project(root: Path, index: str = "# Book\n\n```{toctree}\nmachine\njobs/filter\n```\n") -> Path:
    write(root, {"index.md": index})
    (root / "prose.md").unlink()
    return root


def panel_of(page: str) -> str:
    found = re.search(r'<div [^>]*class="line-0 panel .*?</div>\s*</div>\s*(?=<div class="step)', page, re.DOTALL)
    assert found
    return found[0]


def test_a_panel_says_signal_hazard_consequence_avoidance_and_wear_in_this_order(guide: Path) -> None:
    build(project(guide), putback_lint=False)
    page = (guide / "_build/html/jobs/filter.html").read_text(encoding="utf-8")
    panel = panel_of(page)
    assert plain(panel) == (
        "Warning The oil is hot. It burns skin. Let it cool. "
        "Wear: eye protection, oil-resistant gloves, apron, heat-resistant gloves"
    )
    assert 'role="note"' in panel
    assert 'aria-label="Warning"' in panel
    assert re.search('<svg class="alert-symbol"[^>]* aria-hidden="true"', panel), "the word says it already"


def test_plain_output_says_what_to_wear_and_what_becomes_of_waste(guide: Path) -> None:
    build(project(guide), "text", putback_lint=False)
    text = plain((guide / "_build/text/jobs/filter.txt").read_text(encoding="utf-8"))
    assert "Let it cool. Wear: eye protection, oil-resistant gloves, apron, heat-resistant gloves" in text
    assert "Waste: Take old oil to a collection point." in text
    assert "[ ] F1. Tighten the six head bolts once more after 10 running hours" in text
    assert "Done at running hours: ______ h" in text


def test_waste_is_said_under_its_step_once_a_job(guide: Path) -> None:
    build(project(guide), putback_lint=False)
    page = (guide / "_build/html/jobs/filter.html").read_text(encoding="utf-8").partition("</main>")[0]
    steps = [plain(step) for step in re.split(r'<div class="step\b(?!-)', page)[1:]]
    said = [index for index, step in enumerate(steps) if "Waste: Take old oil to a collection point." in step]
    assert [steps[index].partition(" Waste")[0].split(">")[-1].strip().replace(" .", ".") for index in said] == [
        "2 Let the oil drain, about 2 l (2.1 US qt).",
    ]


def test_a_follow_up_stands_before_the_sign_off_with_a_box_and_a_place_for_the_hour(guide: Path) -> None:
    build(project(guide), putback_lint=False)
    page = (guide / "_build/html/jobs/filter.html").read_text(encoding="utf-8")
    section = page[page.index('id="filter-follow-up"') : page.index('id="filter-sign-off"')]
    assert (
        "F1 Tighten the six head bolts once more after 10 running hours, in the same order as in step 7, to "
        "24 N·m (18 lbf·ft) ."
    ) in plain(section)
    assert 'type="checkbox" aria-label="Step F1 done"' in section
    assert 'aria-label="Done at running hours in h, step F1"' in section
    assert page.index("count-back") < page.index('id="filter-follow-up"')


def test_nothing_settles_and_nothing_follows(guide: Path) -> None:
    write(guide, {"machine.yaml": MACHINE.replace(" retighten-after: 10 h,", "")})
    build(project(guide), putback_lint=False)
    assert "Follow-up" not in (guide / "_build/html/jobs/filter.html").read_text(encoding="utf-8")


def set_up(guide: Path) -> str:
    build(project(guide), putback_lint=False)
    page = (guide / "_build/html/jobs/filter.html").read_text(encoding="utf-8")
    return plain(page[page.index('class="set-up"') : page.index('id="filter-section-1"')])


def test_every_job_says_in_short_who_can_do_it_and_when_to_stop(guide: Path) -> None:
    words = set_up(guide)
    assert "Who can do it Anyone who has used these tools before." in words
    assert "Stop, and call a licensed professional, when a step cannot be done as it is written" in words
    assert "Local codes and the maker's data take precedence over this book." in words
    assert "Licensed work" not in words


def test_the_skill_of_a_job_is_its_own(guide: Path) -> None:
    write(guide, {"jobs/filter.yaml": JOB.replace("sections:", "skill: For a fitter.\nsections:", 1)})
    words = set_up(guide)
    assert "Who can do it For a fitter." in words
    assert "Anyone who has used these tools before." not in words


def test_work_that_needs_a_licence_says_so(guide: Path) -> None:
    write(guide, {"jobs/filter.yaml": JOB.replace("      - replace: filter", "      - clean: jet")})
    words = set_up(guide)
    assert (
        "Licensed work Only with a gas burner. Fuel gas: a licensed professional does this work, or oversees it."
        in words
    )


def test_the_long_form_goes_before_all_pages_though_nobody_wrote_it(guide: Path) -> None:
    write(guide, {"jobs/filter.yaml": JOB.replace("      - replace: filter", "      - clean: jet")})
    out = built(guide, "html")
    page = (out / "html/before-you-start.html").read_text(encoding="utf-8")
    words = plain(page[page.index("<main") : page.index("</main>")])
    for said in (
        "Before you start",
        "The law and the codes of the place where you work. The data of the maker of your machine.",
        "Stop, and call a licensed professional, when local codes require one;",
        "Fuel gas: a licensed professional does this work, or oversees it. This applies to: Renew the filter.",
        "Renew the filter Anyone who has used these tools before.",
    ):
        assert said in words
    index = (out / "html/index.html").read_text(encoding="utf-8")
    contents = index[index.index('id="contents"') : index.index("</nav>")]
    assert re.findall(r'href="([^"#]+)"', contents)[-6:] == [
        "before-you-start.html",
        "prose.html",
        "machine.html",
        "jobs/filter.html",
        "reference-tables.html",
        "index-of-things.html",
    ]
    assert '<link rel="next" title="Before you start" href="before-you-start.html">' in index
    assert 'class="rubric">What takes precedence over this book</h2>' in page, "a heading, also for who cannot see it"
    assert sorted(path.name for path in guide.iterdir()) == [
        "guide.yaml",
        "index.md",
        "jobs",
        "machine.yaml",
        "prose.md",
    ]


def test_a_page_of_the_same_name_stays_the_authors(guide: Path) -> None:
    write(guide, {"before-you-start.md": "# My own\n", "index.md": INDEX.replace("prose", "prose\nbefore-you-start")})
    out = built(guide, "html")
    assert "My own" in (out / "html/before-you-start.html").read_text(encoding="utf-8")
    assert "Who can do the jobs" in (out / "html/before-you-start-first.html").read_text(encoding="utf-8")


def test_a_first_page_without_contents_gets_one(guide: Path) -> None:
    write(guide, {"index.md": "# Book\n\nWords.\n"})
    out = read_guide(guide)
    manual = build_manual(open_guide(out), ["html", "pdf"], guide.parent / "out")
    assert not any("before-you-start" in warning for warning in manual.warnings)
    index = (guide.parent / "out/html/index.html").read_text(encoding="utf-8")
    assert 'href="before-you-start.html"' in index
    assert "When to stop and call a licensed professional" in text_of(guide.parent / "out/boiler-a4.pdf")


def test_a_directive_puts_the_long_form_into_somebodys_own_project(guide: Path) -> None:
    index = "# Book\n\n```{putback-before-you-start}\n```\n\n```{toctree}\nmachine\njobs/filter\n```\n"
    _, warnings = build(project(guide, index), putback_lint=False)
    assert warnings == ""
    page = plain((guide / "_build/html/index.html").read_text(encoding="utf-8"))
    assert "When to stop and call a licensed professional" in page
    assert not (guide / "_build/html/before-you-start.html").exists()


def test_the_directive_outside_a_guide_is_an_error_at_its_line(tmp_path: Path) -> None:
    write(tmp_path, {"index.md": "# Book\n\n```{putback-before-you-start}\n```\n"})
    _, warnings = build(tmp_path)
    assert "'putback-before-you-start': this page is not in a guide" in warnings


def text_of(pdf: Path) -> str:
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    return " ".join(done.stdout.decode().replace("\u200b", "").replace("\u2060", "").split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_paper_says_the_same(guide: Path, paper: str) -> None:
    text = text_of(built(guide, "pdf", paper=paper) / f"boiler-{paper}.pdf").replace("\N{NO-BREAK SPACE}", " ")
    for said in (
        "WARNING The oil is hot. It burns skin. Let it cool. "
        "Wear: eye protection, oil-resistant gloves, apron, heat-resistant gloves",
        "Waste: Take old oil to a collection point.",
        "F1 Tighten the six head bolts once more after 10 running hours, in the same order as in step 7, to "
        "24 N·m (18 lbf·ft)",
        "Done at running hours h",
        "Local codes and the maker's data take precedence over this book.",
        "Anyone who has used these tools before.",
    ):
        assert said in text
    behind_contents = text[text.index("Words.") :]
    assert behind_contents.index("Before you start") < behind_contents.index(
        "Renew the filter Follow-up After 10 running hours People"
    )


def test_read_aloud_from_paper_a_panel_keeps_its_order(guide: Path) -> None:
    pdf = built(guide, "pdf") / "boiler-a4.pdf"
    done = subprocess.run(["pdfinfo", "-struct-text", str(pdf)], capture_output=True, check=True)
    words = re.findall(r'^\s*"(.*)"$', done.stdout.decode(), re.MULTILINE)
    at = words.index("WARNING")
    assert words[at : at + 5] == [
        "WARNING",
        "The oil is hot.",
        "It burns skin.",
        "Let it cool.",
        "Wear: eye protection, oil-resistant gloves, apron, heat-resistant gloves",
    ]
