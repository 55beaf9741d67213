"""`--baseline`: what is known does not fail, what is new does, and what is gone has to be taken out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from putback.lint.baseline_file import BadBaselineError, KnownLine, read_baseline, written
from putback.lint.report import formats
from tests.conftest import Answer, Putback, Write
from tests.lint.changing import git

OFF = "job: Off\nsteps:\n  - clean: lid\n  - remove: screws\n"
TRIED = "  - check: lid\n    limit: does not rock\n    otherwise:\n      - stop: Do it again.\n"
IDLE = f"job: Idle\nsteps:\n  - tighten: screws\n{TRIED}"
VAGUE = TRIED.replace("does not rock", "good")


@pytest.fixture
def folder(write_guide: Write) -> Path:
    """Make two guides, of which one has an error that can injure and one that cannot."""
    files: dict[str, str | bytes | None] = {"pump/jobs/off.yaml": OFF, "pump/jobs/idle.yaml": IDLE}
    for name in ("guide.yaml", "machine.yaml", "jobs/look.yaml"):
        files[f"motor/{name}"] = (write_guide({}) / name).read_text("utf-8")
    return write_guide(files).parent


def renew(putback: Putback, *words: str) -> Answer:
    return putback("lint", "--baseline", "known.yaml", "--renew", *words)


def check(putback: Putback, *words: str) -> Answer:
    return putback("lint", "--baseline", "known.yaml", *words)


def known() -> set[str]:
    return {f"{entry.path} {entry.check}" for entry in read_baseline(Path("known.yaml")).entries.values()}


def test_what_is_known_does_not_fail_and_what_is_new_does(folder: Path, putback: Putback) -> None:
    assert putback("lint").code == 1
    made = renew(putback)
    assert made.code == 0
    assert made.err == "known.yaml is written: 2 known, 2 of them new; 0 taken out\n"
    assert known() == {"pump/jobs/off.yaml left-off", "pump/jobs/idle.yaml no-effect"}
    text = (folder / "known.yaml").read_text("utf-8")
    run = check(putback)
    assert run.code == 0
    assert run.out.splitlines()[-1] == "4 jobs, 7 steps in 9 files: nothing new, 2 findings known in known.yaml"
    (folder / "motor/jobs/off.yaml").write_text(OFF, "utf-8")
    run = check(putback, "--format", "json")
    assert run.code == 1
    new = {f"{found['path']} {found['check']}" for found in run.data["findings"] if not found["known"]}
    assert new == {"motor/jobs/off.yaml left-off"}
    assert run.data["summary"]["known"] == 2
    assert (folder / "known.yaml").read_text("utf-8") == text


def test_what_is_known_stays_so_when_lines_move(folder: Path, putback: Putback) -> None:
    renew(putback)
    moved = OFF.replace("steps:\n", "# Words.\n\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n")
    (folder / "pump/jobs/off.yaml").write_text(moved, "utf-8")
    assert check(putback).code == 0


def test_what_can_injure_is_told_until_it_is_gone(folder: Path, putback: Putback) -> None:
    renew(putback)
    out = check(putback).out
    assert "four screws come off and never go back" in out
    assert "known error left-off at pump/jobs/off.yaml:4:13" in out
    assert "no-effect" not in out
    assert folder


def test_what_is_gone_has_to_be_taken_out(folder: Path, putback: Putback) -> None:
    renew(putback)
    (folder / "pump/jobs/idle.yaml").write_text("job: Idle\nsteps:\n  - clean: lid\n", "utf-8")
    lines = (folder / "known.yaml").read_text("utf-8").splitlines()
    (line,) = [number for number, text in enumerate(lines, 1) if "no-effect" in text]
    run = check(putback, "--format", "json")
    assert run.code == 1
    (gone,) = [found for found in run.data["findings"] if not found["known"]]
    place = (gone["path"], gone["line"], gone["column"], gone["level"], gone["check"])
    assert place == ("known.yaml", line, 3, "error", "bad-waiver")
    assert gone["message"] == "this finding of no-effect in pump/jobs/idle.yaml is gone"
    assert gone["hint"] == "delete this line"
    del lines[line - 1]
    (folder / "known.yaml").write_text("\n".join(lines), "utf-8")
    assert check(putback).code == 0
    made = renew(putback)
    assert made.err == "known.yaml is written: 1 known, 0 of them new; 0 taken out\n"


def test_whoever_deletes_every_line_has_a_baseline_without_any(folder: Path, putback: Putback) -> None:
    renew(putback)
    lines = (folder / "known.yaml").read_text("utf-8").splitlines(keepends=True)
    (folder / "known.yaml").write_text("".join(line for line in lines if not line.startswith("- ")), "utf-8")
    assert read_baseline(Path("known.yaml")).entries == {}
    run = check(putback)
    assert (run.code, run.err) == (1, "")


def test_a_guide_that_is_gone_is_taken_out(folder: Path, putback: Putback) -> None:
    renew(putback)
    (folder / "pump").rename(folder / "pump-2")
    run = check(putback, "motor")
    assert run.code == 1
    assert run.out.count("is gone") == 2
    assert renew(putback).err == "known.yaml is written: 2 known, 2 of them new; 2 taken out\n"


@pytest.mark.parametrize("words", [["motor"], ["pump/jobs/look.yaml"], ["--changed-since", "HEAD"]])
def test_what_was_not_looked_at_is_not_gone(words: list[str], folder: Path, putback: Putback) -> None:
    renew(putback)
    text = (folder / "known.yaml").read_text("utf-8")
    (folder / "pump/jobs/idle.yaml").unlink()
    git("init", "--quiet")
    git("add", "--all")
    git("commit", "--quiet", "--message", "The start")
    assert check(putback, *words).code == 0
    assert renew(putback, *words).err == "known.yaml is written: 2 known, 0 of them new; 0 taken out\n"
    assert (folder / "known.yaml").read_text("utf-8") == text
    assert check(putback).code == 1


def test_what_one_variant_does_not_show_is_not_gone(write_guide: Write, putback: Putback) -> None:
    machine = "machine: Pump\noptions: {shaft: [long, short]}\nparts: {lid: {}}\n"
    job = "job: Off\nsteps:\n  - remove: lid\n    when: {shaft: long}\n"
    write_guide({"pump/machine.yaml": machine, "pump/jobs/off.yaml": job})
    renew(putback)
    assert known()
    assert check(putback, "--variant", "shaft=short").code == 0
    assert renew(putback, "--variant", "shaft=short").err.endswith("; 0 taken out\n")


def test_what_a_new_error_can_hide_is_not_gone(folder: Path, putback: Putback) -> None:
    renew(putback)
    (folder / "pump/jobs/idle.yaml").write_text("job: Idle\nsteps:\n  - remove: screws\n", "utf-8")
    run = check(putback)
    assert run.code == 1
    assert "is gone" not in run.out
    assert renew(putback).err == "known.yaml is written: 2 known, 1 of them new; 1 taken out\n"


def test_what_a_new_error_in_the_library_can_hide_is_not_gone(folder: Path, putback: Putback) -> None:
    renew(putback)
    (folder / "shared/blocks").mkdir()
    (folder / "shared/blocks/off.yaml").write_text("block: Off\nsteps:\n  - remove: screws\n", "utf-8")
    (folder / "motor/jobs/off.yaml").write_text("job: Off\nsteps:\n  - do: off\n", "utf-8")
    (folder / "pump/jobs/idle.yaml").unlink()
    run = check(putback)
    assert run.code == 1
    assert "shared/blocks/off.yaml" in run.out
    assert "is gone" not in run.out


def test_a_library_is_judged_when_all_its_guides_were_looked_at(folder: Path, putback: Putback) -> None:
    block = "block: Off\nsteps:\n  - clean: lid\n  - install: lid\n"
    (folder / "shared/blocks").mkdir()
    (folder / "shared/blocks/off.yaml").write_text(block, "utf-8")
    for name in ("pump", "motor"):
        (folder / name / "jobs/off.yaml").write_text("job: Off\nsteps:\n  - do: off\n", "utf-8")
    (folder / "pump/jobs/idle.yaml").unlink()
    renew(putback)
    assert {entry.split()[0] for entry in known()} == {"shared/blocks/off.yaml"}
    (folder / "shared/blocks/off.yaml").write_text("block: Off\nsteps:\n  - clean: lid\n", "utf-8")
    assert check(putback, "pump").code == 0
    assert check(putback).code == 1


def test_findings_that_are_alike_are_counted(folder: Path, putback: Putback) -> None:
    path = folder / "pump/jobs/idle.yaml"
    path.write_text(f"{IDLE}{VAGUE}{VAGUE}", "utf-8")
    renew(putback)
    assert (
        len([entry for entry in read_baseline(Path("known.yaml")).entries.values() if entry.check == "limit-vague"])
        == 2
    )
    path.write_text(f"{IDLE}{VAGUE}{VAGUE}{VAGUE}", "utf-8")
    new = [found for found in check(putback, "--format", "json").data["findings"] if not found["known"]]
    assert [(found["check"], found["line"]) for found in new] == [("limit-vague", 17)]
    path.write_text(f"{IDLE}{VAGUE}", "utf-8")
    run = check(putback)
    assert run.code == 1
    assert run.out.count("is gone") == 1


def test_what_cannot_be_read_or_checked_is_never_known(folder: Path, putback: Putback) -> None:
    (folder / "motor/machine.yaml").write_text("machine: Motor\nprats: {}\n", "utf-8")
    (folder / "pump/jobs/look.yaml").write_text("job: [\n", "utf-8")
    made = renew(putback)
    assert made.code == 2
    assert not {"wrong-shape", "not-yaml"} & {entry.split()[1] for entry in known()}
    assert "prats" in check(putback).out


def test_it_is_the_same_from_any_folder_of_the_repository(
    folder: Path, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    git("init", "--quiet")
    renew(putback)
    text = (folder / "known.yaml").read_text("utf-8")
    monkeypatch.chdir(folder / "pump")
    assert putback("lint", "--baseline", "../known.yaml").code == 0
    assert putback("lint", "--baseline", "../known.yaml", "--renew").code == 0
    assert (folder / "known.yaml").read_text("utf-8") == text


@pytest.mark.parametrize("form", formats())
def test_every_report_passes_what_is_known(form: str, folder: Path, putback: Putback) -> None:
    renew(putback)
    assert folder
    out = check(putback, "--format", form).out
    assert "<failure" not in out
    assert "::error" not in out
    if form == "sarif":
        results = json.loads(out)["runs"][0]["results"]
        assert {one["baselineState"] for one in results} == {"unchanged"}


def test_parts_are_compared_when_they_are_merged(folder: Path, putback: Putback) -> None:
    def parts(*words: str) -> Answer:
        for number in ("1", "2"):
            putback("lint", "--part", f"{number}/2", "--report", f"json:{number}.json")
        return putback("merge", "1.json", "2.json", *words)

    renew(putback)
    assert parts().code == 1
    run = parts("--baseline", "known.yaml")
    assert (run.code, run.out.splitlines()[-1]) == (0, check(putback).out.splitlines()[-1])
    (folder / "pump/jobs/idle.yaml").write_text("job: Idle\nsteps:\n  - clean: lid\n", "utf-8")
    run = parts("--baseline", "known.yaml", "--format", "sarif")
    assert run.code == 1
    assert "this finding of no-effect in pump/jobs/idle.yaml is gone" in run.out


# The file


def test_the_file_is_the_same_text_for_the_same_findings() -> None:
    entries = [
        KnownLine(f"p/{n % 3} ü.yaml", "left-off", f"{n:032x}", f'it\'s "{n}" \\ : #{n}\n\x1b') for n in range(9)
    ]
    text = written(entries)
    assert written(reversed(entries)) == text == written([*entries, *entries])
    assert len(text.splitlines()) == 2 + 2 + 9
    assert written([]).endswith("known: []\n")


def test_what_is_written_is_read_again(tmp_path: Path) -> None:
    odd = [
        'it\'s "so"',
        "a: b # c",
        "- x",
        "{a}",
        "ü → ≤",
        "\\",
        "'",
        "true",
        "&a *b !c",
        "50%",
        "\N{NO-BREAK SPACE}x  y ",
    ]
    odd += ["/".join(["folder"] * 200), "\N{NO-BREAK SPACE}x  y "]
    entries = {KnownLine(f"{name}/a b.yaml", "left-off", f"{number:032x}", name) for number, name in enumerate(odd)}
    path = tmp_path / "known.yaml"
    path.write_text(written(entries), "utf-8")
    assert {*read_baseline(path).entries.values()} == entries
    path.write_text(written([]), "utf-8")
    assert read_baseline(path).entries == {}


LINE = '{path: a.yaml, check: left-off, fingerprint: "0a", message: "off"}'
NONE = "known.yaml:1:1: this is no baseline; fix: name another file; with --renew, one that is not there is written"
FACTS = "what is known has a path, a check, a fingerprint and a message, each a text"
BAD = {
    "": "known.yaml:1:1: the file is empty",
    "- a\n": NONE,
    "machine: Pump\n": NONE,
    "baseline: 2\nknown: []\n": (
        "known.yaml:1:11: this is not the form of baseline that this Putback reads, 1; "
        "fix: delete the file, and write it anew with --renew"
    ),
    "baseline: 1\n": "known.yaml:1:1: there is no 'known' in this baseline",
    "baseline: 1\nknown: {}\n": "known.yaml:2:8: 'known' is a list of findings",
    "baseline: 1\nknown: []\nnow: 1\n": (
        "known.yaml:3:1: unknown key 'now'; fix: the keys here are 'baseline' and 'known'"
    ),
    "baseline: 1\nknown:\n- {check: left-off}\n": f"known.yaml:3:3: {FACTS}",
    "baseline: 1\nknown:\n- left-off\n- [a]\n": f"known.yaml:3:3: {FACTS}\nknown.yaml:4:3: {FACTS}",
    f"baseline: 1\nknown:\n- {LINE}\n- {LINE}\n": ("known.yaml:4:3: the same is in line 3; fix: delete one of them"),
}


def test_a_line_is_read(folder: Path) -> None:
    (folder / "known.yaml").write_text(f"baseline: 1\nknown:\n- {LINE}\n", "utf-8")
    assert read_baseline(Path("known.yaml")).entries == {"0a": KnownLine("a.yaml", "left-off", "0a", "off")}


@pytest.mark.parametrize("text", BAD, ids=range(len(BAD)))
def test_a_file_that_is_no_baseline_is_refused_and_stays(text: str, folder: Path, putback: Putback) -> None:
    path = folder / "known.yaml"
    path.write_text(text, "utf-8")
    for run in (check(putback), renew(putback)):
        assert (run.code, run.out) == (2, "")
        assert run.err == f"Error: the baseline cannot be used\n{BAD[text]}\n"
    assert path.read_text("utf-8") == text


@pytest.mark.parametrize("content", [b"\xff", b"a: [\n", b"\0", b"<<<<<<< HEAD\n", b"baseline: *a\n", b"- " * 500])
def test_a_garbled_file_is_refused_and_stays(content: bytes, folder: Path, putback: Putback) -> None:
    path = folder / "known.yaml"
    path.write_bytes(content)
    for run in (check(putback), renew(putback)):
        assert (run.code, run.out) == (2, "")
        assert run.err.startswith("Error: the baseline cannot be used\nknown.yaml:")
    assert path.read_bytes() == content
    with pytest.raises(BadBaselineError):
        read_baseline(path)


def test_what_is_asked_for_must_make_sense(folder: Path, putback: Putback) -> None:
    run = check(putback)
    assert run.code == 2
    assert run.err.endswith("Error: 'known.yaml' does not exist; with --renew as well, it is written\n")
    run = putback("lint", "--renew")
    assert run.code == 2
    assert run.err.endswith("Error: --renew writes the file of --baseline: add --baseline FILE\n")
    (folder / "known.yaml").mkdir()
    assert check(putback).code == 2
    renew(putback)
    run = putback("lint", "--baseline", "pump/guide.yaml/known.yaml", "--renew")
    assert run.code == 2
    run = putback("lint", "--baseline", "other.yaml", "--renew", "--part", "1/2")
    assert run.code == 2
    assert run.err.endswith("leave out --baseline\n")
    assert sorted(path.name for path in folder.iterdir()) == ["known.yaml", "motor", "pump", "shared"]
