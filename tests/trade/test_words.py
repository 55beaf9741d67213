"""Words of the trade: British, American, and those that nobody says."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.checks.wrong_word import find
from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.model.said import said_in
from putback.trade.pairs import PAIRS
from putback.trade.unsaid import UNSAID
from putback.trade.words import Side, said_by, side_of, slips
from putback.words import catalogue, labels_for


@pytest.mark.parametrize(
    ("british", "american"),
    [
        ("A spanner, and two 10 mm spanners.", "A wrench, and two 10 mm wrenches."),
        ("An earth lead of an aerial.", "A ground lead of an antenna."),
        ("Split-pin holes", "Cotter-pin holes"),
        ("split pins of aluminium, 5 litres", "cotter pins of aluminum, 5 liters"),
        ("Turn it anticlockwise, an aluminium tyre.", "Turn it counterclockwise, an aluminum tire."),
        ("the silencer of the air silencer", "the silencer of the air silencer"),
        ("a bonnet nut of the valve, under the bonnet", "a bonnet nut of the valve, under the bonnet"),
        ("winterised, refuelling, centring", "winterized, refueling, centering"),
        ("PETROL, “petrol” and petrol-1", "PETROL, “petrol” and petrol-1"),
        (
            "The wheel nut of the grinder, rare earths, a serial-number plate",
            "The wheel nut of the grinder, rare earths, a serial-number plate",
        ),
        ("the wheel nuts of the trailer", "the lug nuts of the trailer"),
        ("a stone of grain 400", "a stone of grain 400"),
        ("Your own judgement, and the behaviour of it", "Your own judgment, and the behavior of it"),
        ("The inlet valve, and the fuel inlet valve", "The inlet valve, and the fuel inlet valve"),
    ],
)
def test_one_side_becomes_the_other(british: str, american: str) -> None:
    assert said_by(british, Side.US) == american
    assert said_by(said_by(british, Side.US), Side.US) == american


def test_every_word_of_a_pair_is_told_with_the_first_of_the_other_side() -> None:
    for pair in PAIRS:
        for side, ours, theirs, unless in (
            (Side.US, pair.us, pair.uk, pair.not_uk),
            (Side.UK, pair.uk, pair.us, pair.not_us),
        ):
            for word in theirs.split("|") if not unless else ():
                found = [slip.right for slip in slips(f"see the {word} there", side)]
                assert found == [ours.split("|")[0]], word
        for side, ours in ((Side.UK, pair.uk), (Side.US, pair.us)):
            right = ours.split("|")[0]
            assert not slips(f"see the {right} there", side), f"{right} is told in its own words"


def test_what_nobody_says_is_told_on_both_sides() -> None:
    for said in UNSAID:
        for side in Side:
            (slip,) = slips(f"see the {said.words} there", side)
            assert slip.nobody, said.words
            assert not slips(f"see the {slip.right} there", side)


def test_a_tag_names_a_side() -> None:
    tags = ("en", "en-US", "en_GB", "EN-nz", "de-US", "en-Latn-US", "en-CA", None)
    assert [side_of(tag) for tag in tags] == [None, Side.US, Side.UK, Side.UK, None, Side.US, None, None]


def _guide(tmp_path: Path, tag: str) -> Path:
    folder = tmp_path / tag
    (folder / "jobs").mkdir(parents=True)
    (folder / "guide.yaml").write_text(f"title: Pump\nlanguage: {tag}\n", encoding="utf-8")
    (folder / "tools.yaml").write_text("own: {name: own spanner}\n", encoding="utf-8")
    (folder / "machine.yaml").write_text(
        "machine: Pump\nparts:\n  shaft: {name: shaft}\nfasteners:\n"
        "  nut: {name: nut, kind: nut, count: 1, drive: hex 21 mm, thread: M12 x 1.25 LH, torque: 40 N·m}\n",
        encoding="utf-8",
    )
    (folder / "jobs/a.yaml").write_text(
        "job: Turn it\nsteps:\n  - turn: shaft\n    way: anticlockwise\n    by: 2 turns\n", encoding="utf-8"
    )
    return folder


@pytest.mark.parametrize(("tag", "says"), [("en-US", "counterclockwise"), ("en-GB", "anticlockwise")])
def test_the_library_and_our_own_words_are_those_of_the_guide(tmp_path: Path, tag: str, says: str) -> None:
    guide = read_guide(_guide(tmp_path, tag))
    words = catalogue(open_guide(guide))
    american = tag == "en-US"
    wrench, torch = ("wrench", "flashlight") if american else ("spanner", "torch")
    assert guide.library.tools["spanner-13"].name == f"13 mm {wrench}"
    assert guide.library.tools["torch"].name == torch
    assert guide.library.tools["own"].name == "own spanner", "what an author wrote stays"
    assert words.tool_for("hex 21 mm") == f"socket or {wrench} for 21\N{NO-BREAK SPACE}mm hex"
    assert any(f"tightened {says}" in said for said in words.remarks(words.things["nut"]))
    step = next(iter(guide.jobs["a"].steps()))
    assert says in "".join(piece.text for piece in words.step(step))
    assert labels_for(tag).book.licence == ("License" if american else "Licence")


def test_the_shipped_library_says_nothing_that_nobody_says(tmp_path: Path) -> None:
    for tag, side in (("en-US", Side.US), ("en-GB", Side.UK)):
        library = read_guide(_guide(tmp_path, tag)).library
        for entries in (library.cautions, library.hazards, library.tools, library.consumables, library.equipment):
            for key, entry in entries.items():
                for field, said in said_in(entry):
                    if field in ("name", "hazard", "consequence", "avoid", "ppe", "waste") and key != "own":
                        assert not slips(said, side), f"{key}: {said}"


def test_a_picture_that_is_shown_is_read_as_well(tmp_path: Path) -> None:
    folder = _guide(tmp_path, "en-GB")
    (folder / "images").mkdir()
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg"><title>Pump</title><text>Muffler side</text><text>MUFFLER</text></svg>'
    )
    for name in ("a.svg", "b.svg", "not-shown.svg"):
        (folder / "images" / name).write_text(drawing, encoding="utf-8")
    step = "job: Look\nsteps:\n  - inspect: shaft\n    for: cracks\n    figure: {image: a.svg, alt: The pump}\n"
    (folder / "jobs/a.yaml").write_text(step, encoding="utf-8")
    (folder / "index.md").write_text("# Pump\n\n![The pump](images/b.svg)\n", encoding="utf-8")
    found = {(fault.span.path.rpartition("/")[2], fault.span.line) for fault in find(open_guide(read_guide(folder)))}
    assert found == {("a.yaml", 5), ("index.md", 3)}
