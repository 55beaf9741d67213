"""A whole job on paper: set-up block, steps, panels, branches, blanks, sign-off."""

from __future__ import annotations

from string import ascii_letters

from docutils import nodes

from putback.sphinxext import nodes as own

from .conftest import Build, bullets, otherwise, panel, para, section, setup_block, step, steps, table, torque

HOT = ("warning", "Coolant is hot and under pressure.", "It can burn eyes and skin seriously.")
AVOID = ("Let the engine cool until you can hold the header tank.", "Open the cap slowly under a cloth.")


def whole_job() -> list[nodes.Node]:
    """Return a job of thirty steps, with five panels, as the extension's parser would make it."""
    torqued = step("18", "Tighten the six cover screws (M4, 6 mm slot) to ")
    torqued.children[0].append(torque("1.8 N·m (16 lbf·in)"))  # type: ignore[attr-defined]
    torqued.children[0].append(nodes.Text(" in the order of the drawing."))  # type: ignore[attr-defined]
    bare = step("23", "Tighten the two guard bolts (M6, 10 mm hex).", torque("9 N·m (80 lbf·in)"))
    measured = step(
        "15",
        "Measure the cam: height at the peak. Limit: at least 6.4 mm.",
        own.blank(label="Cam, height at the peak", unit="mm"),
    )
    apart = [
        "Remove the two guard bolts (M6, 10 mm hex).",
        "Remove the belt guard.",
        "Remove the six cover screws (M4, 6 mm slot). The last screw lets water out. Hold a cloth under the cover.",
        "Remove the pump cover.",
        "Remove the cover gasket and throw it away.",
        "Remove the impeller with the impeller puller.",
        "Clean the faces of the pump and of the cover with a lint-free rag.",
        "Inspect the pump body for scoring, pitting, and a groove where the lip of the impeller runs.",
    ]
    together = [
        "Apply glycerine to the impeller.",
        "Install the new impeller. Turn the shaft clockwise while it goes on.",
    ]
    return [
        para("Restore cooling-water flow, or renew the impeller at its interval."),
        setup_block(
            {
                "Interval": "300 hours or 24 months, whichever comes first",
                "People": "1",
                "Time": "1 h 30 min",
                "Variants": "belt or gear pump drive",
                "Skill": "An owner who has used a torque wrench. Call a professional when the shaft turns roughly.",
            },
            section("Tools", bullets("10 mm socket", "small torque wrench, 1 N·m to 25 N·m", "impeller puller")),
            section("Consumables", bullets("glycerine", "lint-free rag")),
            section("Wear", bullets("eye protection", "nitrile gloves")),
            section("Equipment", bullets("hose plug", "bucket, 5 l")),
            section(
                "Parts to have ready",
                table(
                    ["Part", "Number", "Count", "Kit"],
                    [["impeller", "TD-3102", "1", "pump-kit"], ["cover gasket", "TD-3107", "1", "pump-kit"]],
                ),
            ),
        ),
        section(
            "Make safe",
            steps(
                step("1", "Switch the battery switch off."),
                step("2", "Close the seacock."),
                panel(*HOT, *AVOID),
                step("3", "Open the header-tank cap a quarter turn and let the pressure go."),
                panel("danger", "The belt can start without warning.", "It will tear off fingers.", "Keep the key."),
                step("4", "Hang the key on your own hook."),
                step("5", "Drain the coolant (4.5 l) into the bucket."),
            ),
        ),
        section(
            "Take apart",
            steps(
                panel("caution", "The guard has sharp edges.", "They can cut.", "Wear gloves."),
                *(step(str(6 + at), text, only="belt pump" if at < 2 else "") for at, text in enumerate(apart)),
            ),
        ),
        section(
            "Inspect",
            steps(
                step("14", "Check that the shaft turns freely by hand."),
                measured,
                otherwise(
                    "If the height is below 6.4 mm:",
                    step("15a", "Mark the cam against the pump body."),
                    panel("notice", "The cam screw is glued.", "Heat spoils the seal behind it.", "Use no flame."),
                    step("15b", "Remove the cam."),
                    step("15c", "Install a new cam and align its mark."),
                ),
            ),
        ),
        section(
            "Put together",
            steps(
                *(step(str(16 + at), text) for at, text in enumerate(together)),
                torqued,
                *(
                    step(str(at), f"Install part {at} of the guard and check that nothing binds.")
                    for at in range(19, 23)
                ),
                bare,
            ),
        ),
        section(
            "Prove",
            steps(
                panel("warning", "The engine runs.", "Turning parts can draw in hair and clothes.", "Keep clear."),
                *(
                    step(str(at), "Run the engine at idle for 5 min. Watch the outlet.", box=at % 2 == 0)
                    for at in range(24, 31)
                ),
            ),
        ),
        section(
            "Count back",
            table(
                ["Comes off", "Out", "In", "Goes back as"],
                [["guard bolt", "2", "2", "the same, tightened to 9 N·m"], ["cover screw", "6", "6", "the same"]] * 4,
                classes=["count-back"],
            ),
        ),
        _signoff(),
    ]


def _signoff() -> own.signoff:
    block = own.signoff()
    block += [own.blank(label=label, unit="") for label in ("Name", "Date", "Hours", "Signature")]
    return block


def job_files() -> dict[str, str]:
    return {
        "index.rst": "Tarrick D2\n==========\n\n.. toctree::\n   :caption: Jobs\n\n   pump\n   second\n",
        "pump.rst": "Replace the raw-water pump impeller\n===================================\n\n.. made:: job\n",
        "second.rst": "Fill the coolant\n================\n\n.. made:: job\n",
    }


def test_a_whole_job_prints_with_all_its_words(manual: Build) -> None:
    book = manual(job_files(), {"job": whole_job}, putback_title="Tarrick D2")
    assert (book.status, book.warnings) == (0, "")
    text = book.text
    for words in (
        "WARNING Coolant is hot and under pressure. It can burn eyes and skin seriously.",
        "DANGER The belt can start without warning.",
        "CAUTION The guard has sharp edges.",
        "NOTICE The cam screw is glued.",
        "Interval 300 hours or 24 months, whichever comes first People 1",
        "Tools Consumables • 10 mm socket • glycerine",
        "impeller TD-3102 1 pump-kit",
        "6 belt pump Remove the two guard bolts",
        "to 1.8 N·m (16 lbf·in) in the order",
        "9 N·m (80 lbf·in)",
        "Cam, height at the peak mm",
        "If the height is below 6.4 mm: 15a Mark the cam",
        "Comes off Out In Goes back as",
        "Name Date Hours Signature",
    ):
        assert words in text, words


def test_every_job_begins_on_a_page_of_its_own(manual: Build) -> None:
    book = manual(job_files(), {"job": whole_job})
    starts = [page for page in book.pages if "Restore cooling-water flow" in page]
    assert len(starts) == 2
    assert "Jobs Replace the raw-water pump impeller Restore" in starts[0]
    assert "Jobs Fill the coolant Restore" in starts[1]


def test_a_job_below_another_page_begins_on_a_page_of_its_own_too(manual: Build) -> None:
    files = job_files() | {
        "index.rst": "Tarrick D2\n==========\n\n.. toctree::\n\n   jobs\n",
        "jobs.rst": "All jobs\n========\n\nWords first.\n\n.. toctree::\n\n   pump\n   second\n",
    }
    book = manual(files, {"job": whole_job})
    assert (book.status, book.warnings) == (0, "")
    first = next(at for at, page in enumerate(book.pages) if "Words first." in page)
    assert "Restore" not in book.pages[first]
    assert book.pages[first + 1].startswith("Tarrick D2 Replace the raw-water pump impeller 2 Replace")


def test_a_panel_is_never_parted_from_its_step(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        children: list[nodes.Node] = []
        for at in range(150):
            hazard = f"Hazard{at}x. " + "It is hot here. " * (at % 13)
            children += [
                step(f"{at}a", "Filler. " * (1 + at * 7 % 60)),
                panel("warning", hazard, "It burns.", *("Wear gloves." for _ in range(at % 5))),
            ]
            if at % 4 == 0:
                children += [nodes.note("", para(f"Between{at}x.")), panel("caution", f"Second{at}x.", "It cuts.")]
            children.append(step(f"{at}b", f"Action{at}x. " + "Turn it slowly. " * (at * 11 % 70) + f"End{at}x."))
        return [steps(*children)]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made}, putback_paper="letter")
    assert (book.status, book.warnings) == (0, "")
    pages = book.pages
    where = {
        f"{word}{at}x": [number for number, page in enumerate(pages) if f"{word}{at}x" in page]
        for at in range(150)
        for word in ("Hazard", "Action", "End", *(("Between", "Second") if at % 4 == 0 else ()))
    }
    for at in range(150):
        together = [where[name] for name in where if name.lstrip(ascii_letters) == f"{at}x"]
        assert len(together) == (5 if at % 4 == 0 else 3)
        assert all(place == together[0] and len(place) == 1 for place in together), (at, together)


def test_panels_inside_a_branch_stay_with_their_steps(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        children: list[nodes.Node] = []
        for at in range(60):
            children += [
                panel("danger", f"Hazard{at}x.", "It burns. " * (at * 5 % 40)),
                step(f"7{at}", f"Action{at}x. " + "Turn it slowly. " * (at * 11 % 50) + f"End{at}x."),
            ]
        return [steps(step("7", "Measure it."), otherwise("If not:", *children))]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    assert (book.status, book.warnings) == (0, "")
    printed = book.pages
    for at in range(60):
        pages = [[n for n, page in enumerate(printed) if f"{w}{at}x" in page] for w in ("Hazard", "Action", "End")]
        assert len(pages[0]) == 1, at
        assert pages[0] == pages[1] == pages[2], (at, pages)


def test_a_step_taller_than_a_page_loses_nothing(manual: Build) -> None:
    words = [f"w{at}w" for at in range(2500)]

    def made() -> list[nodes.Node]:
        tall = step("2", " ".join(words[:1200]), *(para(word) for word in words[1200:1300]))
        return [
            steps(
                step("1", "Before."),
                panel("danger", "It falls.", *["It kills."] * 2),
                tall,
                panel("warning", "Hot. " * 900, "Endhot."),
                step("3", " ".join(words[1300:])),
                step("4", "After."),
            )
        ]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    assert (book.status, book.warnings) == (0, "")
    found = set(book.text.split())
    assert [word for word in words if word not in found] == []
    assert book.text.count("Hot.") == 900
    assert "4 After." in book.text
    # Even a step that must be broken begins under its panel.
    page = next(page for page in book.pages if "It falls." in page)
    assert "w0w w1w" in page


def test_a_step_taller_than_a_page_in_a_branch_loses_nothing(manual: Build) -> None:
    words = [f"w{at}w" for at in range(1500)]

    def made() -> list[nodes.Node]:
        tall = step("1a", " ".join(words), own.blank(label="Label. " * 60, unit="mm"))
        deep = otherwise("If still not:", panel("danger", "Deep.", "It kills."), tall, step("1b", "After."))
        return [steps(step("1", "Measure."), otherwise("If not:", step("1a", "Turn."), deep))]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    assert (book.status, book.warnings) == (0, "")
    text = book.text
    found = set(text.split())
    assert [word for word in words if word not in found] == []
    assert text.count("Label.") == 60
    assert "1b After." in text


def test_the_sign_off_is_never_split(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        children: list[nodes.Node] = []
        for at in range(40):
            block = own.signoff()
            block += [own.blank(label=f"Name{at}x", unit=""), *(own.blank(label="Other", unit="h") for _ in range(6))]
            block += own.blank(label=f"Last{at}x", unit="")
            children += [*(para("Filler.") for _ in range(at)), block]
        return children

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    pages = book.pages
    for at in range(40):
        assert any(f"Name{at}x" in page and f"Last{at}x" in page for page in pages), at


def test_a_long_table_repeats_its_head(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        return [table(["Comes off", "Out"], [[f"bolt{at}x", "2"] for at in range(150)])]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    pages = book.pages
    with_rows = [page for page in pages if "bolt" in page]
    assert len(with_rows) >= 3
    assert all("Comes off Out bolt" in page for page in with_rows)
    assert all(f"bolt{at}x 2" in " ".join(pages) for at in range(150))


def test_a_branch_inside_a_step_prints_after_it(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        inner = otherwise("If the gap is too wide:", step("1a", "Call the workshop."))
        return [steps(step("1", "Measure the gap.", inner, para("Write it down.")))]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    assert (book.status, book.warnings) == (0, "")
    assert "1 Measure the gap. Write it down. If the gap is too wide: 1a Call the workshop." in book.text


def test_nothing_unbreakable_runs_off_the_sheet(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        legend = nodes.legend("", *(para(f"l{at}l") for at in range(80)))
        figure = nodes.figure("", nodes.image(uri="gone.png", alt="gone"), nodes.caption("", "Caption."), legend)
        block = own.signoff()
        block += [own.blank(label=f"b{at}b", unit="") for at in range(90)]
        only = " ".join(f"o{at}o" for at in range(60))
        rows = [[f"r{at}r", "word " * 200] for at in range(4)]
        return [figure, steps(step("1", "Turn.", only=only)), block, table(["Name", "Words"], rows)]

    notice = " ".join(f"n{at}n" for at in range(1200))
    title = "A long title. " * 30
    book = manual(
        {"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made}, putback_notice=notice, putback_title=title
    )
    assert book.status == 0, book.warnings
    found = set(book.text.split())
    for letter, count in (("l", 80), ("b", 90), ("o", 60), ("r", 4), ("n", 1200)):
        assert [at for at in range(count) if f"{letter}{at}{letter}" not in found] == []
    assert book.text.count("word") == 800
