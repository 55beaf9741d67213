"""`putback translate`: what it writes, keeps and tells."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.conftest import Putback, Write

FILES: dict[str, str | bytes | None] = {
    "pump/machine.yaml": "machine: Test pump\nparts: {lid: {number: TP-1}}\n",
    "pump/jobs/look.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks of 2 mm.\n",
}
PO = Path("translations/de.po")
NOTE = 'msgid "Look for cracks of 2 mm."\nmsgstr '

CAUTION = (
    "hot-lid:\n  signal: caution\n  hazard: The lid is hot.\n  consequence: It burns.\n"
    "  avoid: [Let it cool first.]\n  covers: [hot-parts]\n"
)
HAZARD = 'msgid "The lid is hot."\nmsgstr '


@pytest.fixture
def pump(write_guide: Write, putback: Putback) -> Path:
    folder = write_guide(FILES)
    assert putback("translate", "pump", "--to", "de").code == 0
    return folder


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_it_writes_every_text_with_its_place(pump: Path) -> None:
    text = (pump / PO).read_text(encoding="utf-8")
    assert f'#: jobs/look.yaml:4\nmsgctxt "jobs.look.inspect-lid.note"\n{NOTE}""' in text
    assert "TP-1" not in text


def test_what_is_translated_stays_and_the_file_is_the_same(pump: Path, putback: Putback) -> None:
    change(pump / PO, f'{NOTE}""', f'{NOTE}"Auf Risse von 2 mm prüfen."')
    before = (pump / PO).read_bytes()
    answer = putback("translate", "pump", "--to", "de")
    assert answer.out.startswith("pump/translations/de.po is up to date: ")
    assert (pump / PO).read_bytes() == before


def test_a_changed_text_is_told_and_marked(pump: Path, putback: Putback) -> None:
    change(pump / PO, f'{NOTE}""', f'{NOTE}"Auf Risse von 2 mm prüfen."')
    change(pump / "jobs/look.yaml", "of 2 mm", "of 3 mm")
    answer = putback("translate", "pump", "--to", "de", "--check")
    assert answer.code == 1
    assert (
        "changed: jobs.look.inspect-lid.note: 'Look for cracks of 3 mm.', was 'Look for cracks of 2 mm.'" in answer.out
    )
    putback("translate", "pump", "--to", "de")
    text = (pump / PO).read_text(encoding="utf-8")
    assert '#, fuzzy\n#| msgid "Look for cracks of 2 mm."\n' in text
    assert 'msgstr "Auf Risse von 2 mm prüfen."' in text


def test_check_writes_nothing(write_guide: Write, putback: Putback) -> None:
    folder = write_guide(FILES)
    answer = putback("translate", "pump", "--to", "de", "--check")
    assert (answer.code, answer.out.split("\n")[0]) == (1, "pump/translations/de.po is not there")
    assert not (folder / PO).exists()


def test_check_is_content_with_a_whole_catalogue(pump: Path, putback: Putback) -> None:
    lines = (pump / PO).read_text(encoding="utf-8").split("\n")
    for number, line in enumerate(lines[:-1]):
        if line.startswith("msgid ") and lines[number + 1] == 'msgstr ""' and line != 'msgid ""':
            lines[number + 1] = line.replace("msgid", "msgstr")
    (pump / PO).write_text("\n".join(lines), encoding="utf-8")
    answer = putback("translate", "pump", "--to", "de", "--check")
    assert answer.code == 0
    assert answer.out.startswith("pump/translations/de.po has everything: ")


def test_a_catalogue_from_elsewhere_is_taken_in_as_far_as_it_is_right(pump: Path, putback: Putback) -> None:
    sent = pump.parent / "sent.po"
    sent.write_text(
        f'msgctxt "jobs.look.inspect-lid.note"\n{NOTE}"Auf Risse von 20 mm prüfen."\n\n'
        'msgctxt "jobs.look.title"\nmsgid "Look"\nmsgstr "Ansehen"\n\n'
        'msgctxt "jobs.old.title"\nmsgid "Old"\nmsgstr "Alt"\n',
        encoding="utf-8",
    )
    answer = putback("translate", "pump", "--to", "de", "--from", "sent.po")
    assert answer.code == 1
    assert "wrong: sent.po:3:8: the text says '2 mm', but the translation '20 mm'" in answer.out
    assert "not in this guide: jobs.old.title: 'Old'" in answer.out
    text = (pump / PO).read_text(encoding="utf-8")
    assert 'msgid "Look"\nmsgstr "Ansehen"' in text
    assert f'{NOTE}""' in text


@pytest.mark.parametrize(
    ("args", "code", "told"),
    [
        (("--to", "../x"), 2, "'../x' is no tag of a language"),
        (("--to", "de" + "-a1b2c3d4" * 5), 2, "is no tag of a language"),
        (("--to", "fr"), 0, "no words of its own in fr yet; it can print in de, en-GB, en-US and es"),
        (("--to", "de", "--check", "--from", "x.po"), 2, "--check writes nothing"),
        (("--to", "de", "--from", "none.po"), 2, "'none.po' cannot be read: no such file or directory"),
        (("--to", "de", "--from", "pump/machine.yaml"), 2, "pump/machine.yaml:1:1: this is no line of a catalogue"),
    ],
)
def test_what_cannot_be_done_is_said(pump: Path, putback: Putback, args: tuple[str, ...], code: int, told: str) -> None:
    del pump
    answer = putback("translate", "pump", *args)
    assert answer.code == code
    assert told in answer.err


def test_a_safety_message_that_is_only_copied_is_told(write_guide: Write, putback: Putback) -> None:
    folder = write_guide(FILES | {"pump/cautions.yaml": CAUTION})
    putback("translate", "pump", "--to", "de")
    change(folder / PO, f'{HAZARD}""', f'{HAZARD}"The lid is hot."')
    answer = putback("translate", "pump", "--to", "de", "--check")
    assert answer.code == 1
    line = (folder / PO).read_text(encoding="utf-8").split("\n").index('msgstr "The lid is hot."') + 1
    told = f"wrong: {PO}:{line}:8: a safety message is not translated, only copied: 'The lid is hot.'"
    assert told.replace(str(PO), f"pump/{PO}") in answer.out


def test_a_catalogue_of_another_language_is_not_taken_in(pump: Path, putback: Putback) -> None:
    before = (pump / PO).read_bytes()
    (pump.parent / "sent.po").write_text('msgid ""\nmsgstr "Language: es\\n"\n', encoding="utf-8")
    answer = putback("translate", "pump", "--to", "de", "--from", "sent.po")
    assert answer.code == 2
    assert "'sent.po' says that its language is es, not de" in answer.err
    assert (pump / PO).read_bytes() == before


def test_a_guide_with_faults_is_not_translated(pump: Path, putback: Putback) -> None:
    before = (pump / PO).read_bytes()
    (pump / "jobs/look.yaml").write_text("job: [", encoding="utf-8")
    answer = putback("translate", "pump", "--to", "de")
    assert answer.code == 2
    assert "pump is not translated: fix the errors first" in answer.err
    assert (pump / PO).read_bytes() == before


def test_a_broken_catalogue_is_not_overwritten(pump: Path, putback: Putback) -> None:
    change(pump / PO, f'{NOTE}""', f'{NOTE}"Auf Risse')
    before = (pump / PO).read_bytes()
    answer = putback("translate", "pump", "--to", "de")
    assert answer.code == 2
    assert ': this text has no quote at its end; fix: end the line with "' in answer.err
    assert (pump / PO).read_bytes() == before
