"""What comes out of a build with pictures: clean files, and numbers where the author put them, on paper and screen."""

from __future__ import annotations

import json
import random
import re
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from tests.conftest import Putback, Write
from tests.pictures.samples import png, svg
from tests.pictures.test_published import SECRET, full_of_secrets, three_colours

from .projects import GUIDE, build, write

LISTED = "# Pump\n\n```{toctree}\nmachine\njobs/look\n```\n"
INDEX = LISTED.replace("\n\n", "\n\n![From the left](images/page.jpg)\n\n", 1)


def job(*figures: str) -> str:
    return "job: Look\nsteps:\n" + "".join(f"  - clean: lid\n    figure: {figure}\n" for figure in figures)


def streams(folder: Path) -> dict[str, bytes]:
    """Return all files that were made, and what is packed in those of a PDF."""
    from pypdf import PdfReader

    found = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    for name in [name for name in found if name.endswith(".pdf")]:
        for number, page in enumerate(PdfReader(BytesIO(found[name])).pages):
            for at, image in enumerate(page.images):
                found[f"{name} {number} {at}"] = image.data
    return found


def test_nothing_of_what_a_camera_says_comes_out(write_guide: Write, putback: Putback) -> None:
    photograph = full_of_secrets("JPEG", three_colours(60, 40), orientation=6)
    drawing = svg(f"<metadata>{SECRET}</metadata><a href='https://example.org/x'><rect width='50' height='50'/></a>")
    files: dict[str, str | bytes | None] = {
        "pump/images/step.jpg": photograph,
        "pump/images/page.jpg": photograph,
        "pump/images/drawn.svg": drawing,
        "pump/jobs/look.yaml": job("{image: step.jpg, alt: The lid}", "{image: drawn.svg, alt: A square}"),
        "pump/index.md": INDEX,
    }
    guide = write_guide(files)
    assert putback("build", "pump").code == 0
    made = streams(guide.parent / "build")
    pictures = [name for name in made if re.search(r"_images/|\.pdf \d", name)]
    assert len(pictures) == 5, pictures
    assert [name for name, data in made.items() if b"4711" in data or b"Exif\0" in data] == []
    sizes = {Image.open(BytesIO(made[name])).size for name in pictures if not name.endswith(".svg")}
    assert sizes == {(40, 60)}, "it stands as it was held"
    assert (guide / "images" / "step.jpg").read_bytes() == photograph
    assert (guide / "images" / "drawn.svg").read_text() == drawing


def test_pictures_of_any_project_are_clean(tmp_path: Path) -> None:
    write(
        tmp_path,
        {**GUIDE, "other.md": "---\norphan: true\n---\n# Other\n\n![words](a.png) ![kind](b.bmp)\n\n![run](c.svg)\n"},
    )
    (tmp_path / "c.svg").write_text(svg("<script>ran()</script><rect width='9' height='9'/>"))
    (tmp_path / "a.png").write_bytes(full_of_secrets("PNG", three_colours(6, 4)))
    (tmp_path / "b.bmp").write_bytes(b"BM")
    _, warnings = build(tmp_path)
    copy = tmp_path / "_build" / "html" / "_images" / "a.png"
    assert Image.open(BytesIO(copy.read_bytes())).size == (6, 4)
    assert b"4711" not in copy.read_bytes()
    told = re.sub(r"\x1b\[\d+m", "", warnings)
    assert "other.md:6: WARNING: picture 'b.bmp' is published as it is" in told
    assert "other.md:8: WARNING: picture 'c.svg' has a program ('script'), on line 1, which is left out" in told
    assert "ran()" not in (copy.parent / "c.svg").read_text(encoding="utf-8")


def test_the_page_says_that_a_damaged_picture_is_not_shown(write_guide: Write, putback: Putback) -> None:
    guide = write_guide({
        "pump/images/step.png": png(50, 50, rows=3),
        "pump/jobs/look.yaml": job(
            "{image: step.png, alt: The lid, callouts: [{text: a crack, at: 50 % 50 %}]}",
        ),
        "pump/index.md": LISTED,
    })  # fmt: skip
    answer = putback("build", "pump")
    place = r"pump/jobs/look\.yaml:4: WARNING: picture 'images/step\.png' cannot be shown: it is cut off"
    assert re.search(place, re.sub(r"\x1b\[\d+m", "", answer.err)), answer.err
    page = (guide.parent / "build/pump/html/jobs/look.html").read_text(encoding="utf-8")
    assert "[Picture not shown: The lid." in page
    assert 'class="marked"' not in page
    pdf = next((guide.parent / "build").rglob("*.pdf"))
    assert "[Picture not shown: The lid." in " ".join(
        subprocess.run(["pdftotext", pdf, "-"], capture_output=True, check=True, text=True).stdout.split()
    )


def squares(spots: list[tuple[int, int]], wide: int, high: int) -> bytes:
    """A light picture with a red square of 12 dots at each spot, in per cent."""
    picture = Image.new("RGB", (wide, high), (250, 250, 240))
    for x, y in spots:
        left, top = round(x / 100 * wide) - 6, round(y / 100 * high) - 6
        picture.paste((255, 0, 0), (left, top, left + 13, top + 13))
    stream = BytesIO()
    picture.save(stream, "PNG")
    return stream.getvalue()


def middles(page: Image.Image, is_it: object) -> list[tuple[float, float]]:
    """Return the middle of each patch of dots of a page that are of a colour."""
    assert callable(is_it)
    wide, high = page.size
    dots = page.load()
    assert dots is not None
    left = {(x, y) for y in range(high) for x in range(wide) if is_it(dots[x, y])}
    found = []
    while left:
        waiting, patch = [left.pop()], []
        while waiting:
            x, y = waiting.pop()
            patch.append((x, y))
            for beside in ((x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)):
                if beside in left:
                    left.discard(beside)
                    waiting.append(beside)
        xs, ys = [x for x, _ in patch], [y for _, y in patch]
        found.append(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
    return found


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_line_leads_to_what_is_pointed_at(seed: int, write_guide: Write, putback: Putback) -> None:
    chance = random.Random(seed)
    wide, high = chance.choice([(600, 400), (400, 600), (500, 500)])
    crop = None if seed == 1 else (chance.randrange(0, 20), chance.randrange(0, 20), 85, 90)
    left, top, right, bottom = crop or (0, 0, 100, 100)
    spots = [(left + 10 + 18 * at, chance.randrange(top + 12, bottom - 12)) for at in range(4)]
    callouts = ", ".join(f"{{text: 'words {at}', at: {x} % {y} %}}" for at, (x, y) in enumerate(spots))
    cut = f"crop: {{from: {left} % {top} %, to: {right} % {bottom} %}}, " if crop else ""
    guide = write_guide(
        {
            "pump/images/step.png": squares(spots, wide, high),
            "pump/jobs/look.yaml": job(
                f"{{image: step.png, alt: Squares, width: 120 mm, {cut}callouts: [{callouts}]}}"
            ),
            "pump/index.md": LISTED,
        }
    )
    assert putback("build", "pump").code == 0
    pdf = next((guide.parent / "build").rglob("*.pdf"))
    text = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, check=True, text=True).stdout.split("\f")
    number = next(at for at, page in enumerate(text, 1) if "Words 3" in page)
    shot = subprocess.run(
        ["pdftoppm", "-r", "100", "-f", str(number), "-l", str(number), pdf], capture_output=True, check=True
    ).stdout
    page = Image.open(BytesIO(shot)).convert("RGB")
    # A black dot with a white edge covers the middle of each red square: what is left of it is a red frame.
    frames = middles(page, lambda dot: dot[0] > 200 and dot[1] < 90 and dot[2] < 90)
    for x, y in merged(frames):
        dot = page.getpixel((round(x), round(y)))
        assert isinstance(dot, tuple)
        assert max(dot) < 60, "no dot in the middle of a square"
    assert len(merged(frames)) == 4
    html = (guide.parent / "build/pump/html/jobs/look.html").read_text(encoding="utf-8")
    dots = re.findall(r'class="dot" style="left: ([\d.]+)%; top: ([\d.]+)%"', html)
    for (x, y), shown in zip(spots, dots, strict=True):
        expected = ((x - left) / (right - left) * 100, (y - top) / (bottom - top) * 100)
        assert [float(part) for part in shown] == [pytest.approx(part, abs=0.05) for part in expected]


def merged(found: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the middles of patches, those of one square as one."""
    groups: list[list[tuple[float, float]]] = []
    for place in sorted(found):
        near = next((group for group in groups if abs(group[0][0] - place[0]) < 12 > abs(group[0][1] - place[1])), None)
        (near.append(place) if near is not None else groups.append([place]))
    return [
        ((min(x for x, _ in g) + max(x for x, _ in g)) / 2, (min(y for _, y in g) + max(y for _, y in g)) / 2)
        for g in groups
    ]


def test_key_and_words_for_who_cannot_see_it(write_guide: Write, putback: Putback) -> None:
    figure = (
        "{image: step.png, alt: The pump, callouts: [{thing: lid, at: [10 % 10 %, 90 % 10 %]}, "
        "{text: the way out, at: 50 % 50 %, arrow: 90 % 50 %, number: 4}]}"
    )
    guide = write_guide(
        {"pump/images/step.png": png(90, 60), "pump/jobs/look.yaml": job(figure), "pump/index.md": LISTED}
    )
    assert putback("lint", "--format", "json", "pump").data["findings"] == []
    assert putback("build", "pump").code == 0
    html = (guide.parent / "build/pump/html/jobs/look.html").read_text(encoding="utf-8")
    told = (
        "The pump. Numbers in the picture: 1 Lid, top left and top right; "
        "4 The way out, middle, with an arrow to the right."
    )
    assert f'alt="{told}"' in html
    assert re.findall(r'<li><span class="mark">(\d+)</span> <span>(.*?)</span></li>', html) == [
        ("1", "Lid"),
        ("4", "The way out"),
    ]
    assert json.dumps(sorted(re.findall(r'aria-hidden="true">(\d+)</span>', html))) == '["1", "1", "4"]'
