"""The extension in somebody's own project: pages, links, warnings, rebuilding, other outputs."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from sphinx.errors import SphinxError

from putback.source.outside import BadCheckError
from tests.sphinxext.projects import GUIDE, JOB, MACHINE, build, write


@pytest.fixture
def project(tmp_path: Path) -> Path:
    root = tmp_path / "project"
    write(root, GUIDE)
    return root


def html(root: Path, page: str) -> str:
    return (root / "_build" / "html" / f"{page}.html").read_text(encoding="utf-8")


def test_a_clean_guide_builds_without_a_warning(project: Path) -> None:
    _, warnings = build(project)
    assert warnings == ""


def test_a_job_page_says_all(project: Path) -> None:
    build(project)
    page = html(project, "jobs/seal")
    text = unescape(re.sub(r"<[^>]+>", "", page))
    for words in (
        "every 300 running hours or 24 months, whichever comes first",
        "Remove the four lid screws (M6 x 1.0, 10 mm hex).",
        "They are alike.",
        "Install a new seal (part number TP-1).",
        "Install the four lid screws (M6 x 1.0, 10 mm hex) hand-tight.",
        "Tighten the four lid screws crosswise to 9 N·m (6.6 lbf·ft).",
        "Only with belt drive. Inspect the belt guard.",
        "Measure the gap at the lid: it must be no more than 0.2 mm (0.008 in).",
        "If the value is more than 0.2 mm (0.008 in):",
        "Stop here. Do the job again.",
        "Run the engine for 5 min.",
        "10 mm socket",
        "small torque wrench",
        "Count back",
        "Sign-off",
    ):
        assert words in text.replace("\N{NO-BREAK SPACE}", " "), words
    assert page.index(" panel panel-danger") < page.index("Run the ")
    assert len(re.findall(r'aria-label="Step \w+ done"', page)) == 11


def test_roles_link_and_tables_show(project: Path) -> None:
    build(project)
    page = html(project, "index")
    assert 'href="machine.html#seal-thing"' in page
    assert 'href="jobs/seal.html#seal-job"' in page
    assert 'href="machine.html#lid-thing"' in page
    assert "the cover" in page
    assert 'href="#running-engine-caution"' in page
    assert "ISO VG 46" in page
    assert "9 N·m" in page.replace("\N{NO-BREAK SPACE}", " ")


def test_the_index_lists_things_and_jobs(project: Path) -> None:
    build(project)
    page = (project / "_build" / "html" / "genindex.html").read_text(encoding="utf-8")
    assert "machine.html#seal-thing" in page
    assert "jobs/seal.html#seal-job" in page


def test_a_role_for_nothing_warns_at_its_line(project: Path) -> None:
    write(project, {"index.md": "# Book\n\n```{toctree}\nmachine\njobs/seal\n```\n\n{putback:part}`sael`\n"})
    _, warnings = build(project)
    assert "index.md:8: WARNING: no part is called 'sael' in this guide" in warnings


def test_findings_are_warnings_at_their_lines(project: Path) -> None:
    write(project, {"jobs/seal.yaml": JOB.replace("      - install: lid\n", "")})
    _, warnings = build(project)
    assert "seal.yaml:10: WARNING: lid comes off and never goes back [putback.left-off]" in warnings


def test_findings_can_be_left_to_another_run(project: Path) -> None:
    write(project, {"jobs/seal.yaml": JOB.replace("      - install: lid\n", "")})
    _, warnings = build(project, putback_lint=False)
    assert "left-off" not in warnings


def test_a_check_of_a_package_that_fails_ends_the_build_with_its_name(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse() -> None:
        raise BadCheckError("the check 'no-time' of the package 'quayside-rules' failed")

    monkeypatch.setattr("putback.checks.all_checks", refuse)
    with pytest.raises(SphinxError, match="the check 'no-time' of the package 'quayside-rules' failed"):
        build(project)


def test_a_job_that_cannot_be_read_is_a_page_that_says_so(project: Path) -> None:
    write(project, {"jobs/seal.yaml": "job: Renew\nsteps:\n  - remve: lid\n"})
    _, warnings = build(project)
    assert "seal.yaml:3: WARNING: 'remve' is not a verb; did you mean 'remove'?" in warnings
    assert "This page cannot be shown." in html(project, "jobs/seal")


def test_other_yaml_is_no_page(project: Path) -> None:
    write(project, {"data/list.yaml": "a: 1\n", ".hidden.yaml": "b: 2\n", "jobs/notes.yml": "c: 3\n"})
    app, warnings = build(project)
    assert warnings == ""
    assert app.env.found_docs == {"index", "machine", "jobs/seal"}


def test_other_yaml_beside_a_page_of_its_name_or_with_signs_of_patterns_in_its_own_is_no_page(project: Path) -> None:
    write(project, {"index.yaml": "a: 1\n", "data/a[1]*?.yaml": "b: 2\n"})
    app, warnings = build(project)
    assert warnings == ""
    assert app.env.found_docs == {"index", "machine", "jobs/seal"}


def test_a_guide_deep_in_a_project_and_two_guides_with_the_same_names(tmp_path: Path) -> None:
    root = tmp_path / "project"
    for name in ("one", "two"):
        write(root / "guides" / name, {**GUIDE, "machine.yaml": MACHINE.replace("Test pump", f"Pump {name}")})
    write(root, {"index.md": "# All\n\n```{toctree}\nguides/one/index\nguides/two/index\n```\n"})
    _, warnings = build(root)
    assert warnings == ""
    page = html(root, "guides/two/index")
    assert 'href="machine.html#seal-thing"' in page


@pytest.mark.parametrize("parallel", [1, 2])
def test_reading_in_parallel_gives_the_same(tmp_path: Path, parallel: int) -> None:
    root = tmp_path / "project"
    jobs = {f"jobs/job-{number}.yaml": JOB.replace("Renew the seal", f"Renew seal {number}") for number in range(12)}
    names = "\n".join(f"jobs/job-{number}" for number in range(12))
    write(root, {**GUIDE, **jobs, "all.md": f"# All\n\n```{{toctree}}\n{names}\n```\n"})
    write(root, {"index.md": GUIDE["index.md"].replace("machine\n", "machine\nall\n", 1)})
    app, warnings = build(root, parallel=parallel)
    assert warnings == ""
    objects = {name for name, _, kind, *_ in app.env.get_domain("putback").get_objects() if kind == "job"}
    assert objects == {"seal", *(f"job-{number}" for number in range(12))}


def changed(root: Path, path: str, text: str, **settings: Any) -> set[str]:
    """Rewrite a file and return the pages that are read again."""
    (root / path).write_text(text, encoding="utf-8")
    read: set[str] = set()
    from sphinx.environment import BuildEnvironment

    original = BuildEnvironment.prepare_settings

    def noted(self: BuildEnvironment, docname: str) -> None:
        read.add(docname)
        original(self, docname)

    BuildEnvironment.prepare_settings = noted  # type: ignore[method-assign]
    try:
        build(root, **settings)
    finally:
        BuildEnvironment.prepare_settings = original  # type: ignore[method-assign]
    return read


def test_only_what_a_file_touches_is_read_again(tmp_path: Path) -> None:
    root = tmp_path / "project"
    write(root, GUIDE)
    block = "block: Look\nsteps:\n  - clean: lid\n"
    write(root, {"blocks/look.yaml": block, "prose.md": "# Prose\n"})
    write(root, {"jobs/other.yaml": "job: Look only\nsteps:\n  - do: look\n"})
    write(root, {"index.md": GUIDE["index.md"].replace("machine\n", "machine\nprose\njobs/other\n", 1)})
    _, warnings = build(root)
    assert warnings == ""
    assert changed(root, "prose.md", "# Prose\n\nMore.\n") == {"prose"}
    assert changed(root, "jobs/other.yaml", "job: Look again\nsteps:\n  - do: look\n") == {"jobs/other", "index"}
    assert changed(root, "blocks/look.yaml", block.replace("lid", "seal")) == {"jobs/other", "index"}
    everything = {"machine", "index", "jobs/seal", "jobs/other"}
    assert changed(root, "machine.yaml", MACHINE.replace("9 N·m", "8 N·m")) == everything
    assert "8 N·m" in html(root, "jobs/seal").replace("\N{NO-BREAK SPACE}", " ")


def test_other_yaml_that_comes_changes_or_goes_makes_no_page_be_read_again(project: Path) -> None:
    build(project, exclude_patterns=["drafts"])
    assert changed(project, "data.yaml", "a: 1\n", exclude_patterns=["drafts"]) == set()
    assert changed(project, "data.yaml", "a: 2\n", exclude_patterns=["drafts"]) == set()
    (project / "data.yaml").unlink()
    assert changed(project, "other.txt", "", exclude_patterns=["drafts"]) == set()
    everything = {"index", "machine", "jobs/seal"}
    assert changed(project, "other.txt", "", exclude_patterns=["draft"]) == everything


def test_a_file_that_a_guide_gets_or_loses_is_read_with_the_pages_that_it_touches(tmp_path: Path) -> None:
    root = tmp_path / "project"
    index = GUIDE["index.md"].replace("{toctree}\nmachine\njobs/seal", "{toctree}\n:glob:\n\nmachine\nprose\njobs/*")
    write(root, {**GUIDE, "prose.md": "# Prose\n", "index.md": index})
    _, warnings = build(root)
    assert warnings == ""
    other = "job: Look only\nsteps:\n  - do: look\n"
    assert changed(root, "jobs/other.yaml", other) == {"jobs/other", "index"}
    assert "Look only" in html(root, "index")
    (root / "blocks").mkdir()
    assert changed(root, "blocks/unused.yaml", "block: Look\nsteps:\n  - clean: lid\n") == {"index"}
    assert changed(root, "blocks/look.yaml", "block: Look\nsteps:\n  - clean: lid\n") == {"index", "jobs/other"}
    assert "Clean" in html(root, "jobs/other")
    (root / "jobs" / "other.yaml").unlink()
    assert changed(root, "other.txt", "") == {"index"}
    assert "Look only" not in html(root, "index")


def test_a_page_that_shows_all_jobs_without_a_list_of_its_own_knows_of_one_more(tmp_path: Path) -> None:
    root = tmp_path / "project"
    write(
        root, {**GUIDE, "all.md": "# All\n\n```{putback-jobs}\n```\n", "more.md": "# More\n\n```{putback-parts}\n```\n"}
    )
    write(root, {"index.md": "# Book\n\n```{toctree}\nmachine\nall\nmore\njobs/seal\n```\n"})
    build(root)
    assert changed(root, "jobs/other.yaml", "job: Look\nsteps:\n  - clean: lid\n") == {"jobs/other", "all", "more"}


def test_an_output_that_knows_nothing_of_us_loses_no_word(project: Path) -> None:
    _, warnings = build(project, "text")
    assert warnings == ""
    text = " ".join((project / "_build" / "text" / "jobs" / "seal.txt").read_text(encoding="utf-8").split())
    for words in (
        "Purpose",
        "Stop a leak.",
        "1. Remove the four lid screws (M6 x 1.0, 10 mm hex).",
        "They are alike.",
        "9 N·m (6.6 lbf·ft)",
        "Danger",
        "carbon monoxide",
        "Measured",
        "If the value is more than 0.2 mm (0.008 in):",
        "Signature",
    ):
        assert words in text.replace("\N{NO-BREAK SPACE}", " "), words


@pytest.mark.parametrize("builder", ["xml", "man", "latex", "gettext"])
def test_other_builders_do_not_fail(project: Path, builder: str) -> None:
    app, _ = build(project, builder)
    assert app.statuscode == 0


def test_a_directive_outside_a_guide_is_an_error_at_its_line(tmp_path: Path) -> None:
    root = tmp_path / "project"
    write(root, {"index.md": "# Book\n\n```{putback-torques}\n```\n"})
    _, warnings = build(root)
    assert "'putback-torques': this page is not in a guide" in warnings
