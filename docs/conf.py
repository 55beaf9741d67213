"""The documentation site: `sphinx-build -W docs docs/_build`."""

import sys
from pathlib import Path

from putback import __version__

# The extensions of the documentation; and of the tests, what runs the commands on its pages.
EXTENSIONS = Path(__file__).parent / "_ext"
sys.path[:0] = [str(EXTENSIONS), str(Path(__file__).parents[1])]

project = "Putback"
author = "The Putback authors"
copyright = author
release = version = __version__

# Each module of that folder that can be set up; what they share is not an extension.
own = sorted(path.stem for path in EXTENSIONS.glob("*.py") if "\ndef setup(" in path.read_text(encoding="utf-8"))
extensions = ["myst_parser", "putback.sphinxext", *own]
myst_enable_extensions = ["colon_fence", "deflist"]
myst_heading_anchors = 4
exclude_patterns = ["_build", "_ext", "_static", "changes"]

html_theme = "putback"
html_static_path = ["_static"]
html_title = f"Putback {release}"
html_show_sphinx = False
html_copy_source = False
html_show_copyright = False

# The printed form of this site: `sphinx-build -b typstpdf docs docs/_build/pdf`.
numfig = True
putback_title = "Putback"
putback_subtitle = "How to write a procedure that a stranger can follow"
putback_edition = f"for version {release}"
putback_licence = "MIT"
putback_notice = (
    "Machines, makers, part numbers and values in this documentation are invented. "
    "Where local codes or the maker's data differ from a guide, follow those."
)
putback_pdf_name = "putback-documentation"
