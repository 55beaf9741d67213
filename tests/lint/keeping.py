"""What the tests of kept results share: a few guides in a folder, and how a run is compared with one without."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

from putback.guide.paths import shown_path
from putback.lint.cache import Cache
from putback.lint.guides import lint
from putback.lint.report.json import write as as_json
from putback.lint.report.text import write as as_text
from putback.lint.result import Result
from putback.lint.search import NoGuideError
from tests.conftest import GUIDE, JOB, MACHINE

DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><text x="1" y="8">rear screw</text></svg>\n'

FILES = {
    "shared/tools.yaml": "torque-wrench: {name: torque wrench}\n",
    "shared/hazards.yaml": "hot: {name: hot surface}\n",
    "shared/blocks/again.yaml": "block: Look again\nsteps:\n  - inspect: lid\n    note: Look for dirt.\n",
    "pump/guide.yaml": GUIDE + "waive:\n  - {check: no-final-test, reason: nothing runs}\n",
    "pump/machine.yaml": MACHINE,
    "pump/index.md": "# Pump\n\nTurn the lid by 4 N·m, not 5.\n\n![A lid](images/lid.svg)\n",
    "pump/images/lid.svg": DRAWING,
    "pump/images/spare.svg": DRAWING.replace("rear", "front"),
    "pump/jobs/look.yaml": JOB + "    figure: {image: lid.svg, alt: The lid.}\n  - do: again\n",
    "pump/jobs/open.yaml": "job: Open it\nsteps:\n  - remove: screws\n  - remove: lid\n",
    "pump/blocks/own.yaml": "block: Look twice\nsteps:\n  - inspect: lid\n    note: Look for water.\n",
    "pump/translations/de.po": 'msgid ""\nmsgstr ""\n"Language: de\\n"\n"Content-Type: text/plain; charset=UTF-8\\n"\n',
    "fan/guide.yaml": "title: Fan\n",
    "fan/machine.yaml": MACHINE.replace("Bench pump", "Fan"),
    "fan/jobs/look.yaml": JOB,
}
"""Two guides with faults, and their library."""

ODD_NAMES = (
    "pump/hazards.yml", "pump/Jobs/late.yaml", "pump/jobs/extra.yaml", "pump/jobs/notes.txt", "pump/more/page.md",
    "pump/tools.yaml", "shared/tools.yml", "shared/equipment.yaml", "pump/shared/tools.yaml", "pump/symptoms.yaml",
    "pump/blocks/deep/b.yaml", "pump/images/new.svg", "new/guide.yaml", "new/machine.yaml", "pump/translations/fr.po",
)  # fmt: skip
"""What somebody may add: rightly, or with a slip."""


def write_guides(top: Path) -> None:
    for name, text in FILES.items():
        path = top / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def told(cache: Cache | None, processes: int | None = 1) -> tuple[Result | str, str]:
    """Lint the current folder; return the result, and all that is printed of it."""
    try:
        result = lint([Path()], processes=processes, cache=cache)
    except NoGuideError as error:
        return str(error), ""
    finally:
        if cache is not None:
            assert cache.trouble is None, cache.trouble
    return result, as_json(result) + as_text(result)


def edit(top: Path, chance: random.Random) -> str:
    """Change something in a folder, whatever it is, as an author, an editor or git would; return what."""
    files = sorted(path for path in top.rglob("*") if path.is_file() and not path.is_symlink())
    if len(files) < 4:
        return "nothing"
    one, other = chance.sample(files, 2)
    way = chance.choice(["more", "line", "line", "swap", "copy", "delete", "rename", "add", "link", "folder", "bytes"])
    if way == "more":
        one.write_bytes(one.read_bytes() + chance.choice([b"\n", b"# a note\n", b"x", b"    note: 5\n"]))
    elif way == "line":
        lines = one.read_bytes().split(b"\n")
        lines.insert(chance.randrange(len(lines) + 1), lines.pop(chance.randrange(len(lines))))
        one.write_bytes(b"\n".join(lines))
    elif way == "bytes":
        data = bytearray(one.read_bytes() or b" ")
        data[chance.randrange(len(data))] = chance.randrange(256)
        one.write_bytes(bytes(data))
    elif way == "swap":
        first, second = one.read_bytes(), other.read_bytes()
        one.write_bytes(second)
        other.write_bytes(first)
    elif way == "copy":
        shutil.copy2(one, other)
    elif way == "delete":
        one.unlink()
    elif way in ("rename", "add", "link", "folder"):
        target = top / chance.choice(ODD_NAMES)
        if not target.parent.is_dir() and target.parent.exists():
            return "nothing"
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists() or target.is_symlink():
            return "nothing"
        if way == "rename":
            one.rename(target)
        elif way == "add":
            target.write_bytes(other.read_bytes())
        elif way == "folder":
            target.mkdir()
        else:
            target.symlink_to(chance.choice([one, Path("nowhere"), top]))
        return f"{way} {shown_path(one)} {shown_path(target)}"
    return f"{way} {shown_path(one)} {shown_path(other)}"
