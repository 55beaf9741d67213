"""Prose pages on paper: every ordinary node prints, and no letter of an author can do harm."""

from __future__ import annotations

import struct
import zlib

import pytest
from docutils import nodes

from putback.sphinxext.building import table
from tests.printed import overlaps

from .conftest import Build

SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="80" height="40"><rect width="80" height="40" fill="#999"/></svg>'


def png(width: int, height: int) -> bytes:
    """Return a grey picture."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = zlib.compress(b"".join(b"\0" + b"\x80" * width for _ in range(height)))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


RST = r"""
Everything
==========

.. _here:

Start *stressed* **strong** ``literal`` :guilabel:`Pressed` H\ :sub:`2`\ O x\ :sup:`3` |sub| :abbr:`RPM (turns)`.
See :doc:`other`, :ref:`there <there-far>`, :ref:`a paragraph <here>`, `outside <https://example.org/a?b=c&d=e>`_ and
https://example.org/plain. Figure: :numref:`fig-one`. A note [#one]_ and the same note [#one]_. A source [SRC]_.
Fetch :download:`data.csv`. Term: :term:`impeller`.

.. |sub| replace:: substituted

.. [#one] Note at the *foot*.

   Second paragraph of the note.
.. [SRC] Cited source.

.. rubric:: A rubric

- bullet one

  - bullet nested

    second paragraph
- bullet two

3. third
4. fourth

   a) letter a
   b) letter b

term one : classifier
   definition one

term two
   definition two

:field: value of the field
:other: more value

-o FILE  option text

| line one
|   line two indented

..

   A quoted saying.

   -- A. Mechanic

::

   literal   block # $x$ "quote" \n
     indented

>>> doctest_line

.. code-block:: python
   :caption: Code caption

   print("hello")

.. table:: Spans

   +-------+-------+-------+
   | Head a| Head b| Head c|
   +=======+=======+=======+
   | wide cell     | tall  |
   +-------+-------+ cell  |
   | x1    | y1    |       |
   +-------+-------+-------+

.. csv-table::
   :stub-columns: 1

   stub,plain

.. _fig-one:

.. figure:: grey.png
   :alt: a grey field
   :width: 40%

   Caption *words*.

   Legend words.

.. image:: sign.svg
   :alt: a sign

An icon |icon| inline.

.. |icon| image:: sign.svg
   :alt: small sign
   :height: 10px

.. note:: Note text.
.. warning:: Warning text.
.. tip:: Tip text.
.. seealso:: See-also text.
.. admonition:: Own title

   Own text.
.. topic:: Topic title

   Topic text.
.. sidebar:: Side title

   Side text.
.. versionadded:: 1.0
   Version text.
.. deprecated:: 2.0
.. only:: html

   Never on paper.
.. only:: typst

   Only on paper.
.. raw:: html

   <b>raw html</b>
.. raw:: typst

   #panic("raw typst")
.. comment words
.. index:: indexed word
.. centered:: Centred words
.. hlist::

   * h one
   * h two
.. container:: odd

   Contained text.
.. glossary::

   impeller
      The wheel that moves water.
.. function:: turn(shaft, by=90)

   Description of a function.
.. math:: a^2 + b^2

Inline math :math:`x_1`.

----

After the transition.

Deeper
------

Deepest
~~~~~~~

Below deepest
^^^^^^^^^^^^^

Text at depth.
"""

OTHER = """
Other
=====

.. _there-far:

Everything
----------

.. _here-too:

Same words, same ids. Back: :ref:`to the start <here>`. [#one]_

.. [#one] Foot of the other page.
"""


def prose_files() -> dict[str, str | bytes]:
    return {
        "index.rst": "Tarrick D2\n==========\n\nWelcome words.\n\n"
        ".. toctree::\n   :caption: Prose\n\n   all\n   other\n   myst\n",
        "all.rst": RST,
        "other.rst": OTHER,
        "myst.md": "# MyST page\n\nA {doc}`all` link, [one](all.rst), [two](#sub), `code`[^f].\n\n[^f]: Myst foot.\n\n"
        "(sub)=\n## Sub heading\n\n| left | right |\n| :--- | ---: |\n| l1 | r1 |\n\nTerm\n: Meaning\n",
        "grey.png": png(60, 40),
        "sign.svg": SVG,
        "data.csv": "a,b\n",
    }


def test_all_ordinary_nodes_print(manual: Build) -> None:
    book = manual(prose_files(), numfig=True)
    assert book.status == 0
    told = [line for line in book.warnings.splitlines() if "formulas" not in line]
    assert [line for line in told if line] == []
    text = book.text
    other = next(number for number, page in enumerate(book.pages, 1) if "Same words, same ids." in page)
    for words in (
        "Welcome words.",
        "Start stressed strong literal Pressed H2O x3 substituted RPM.",
        f"See Other (page {other})",
        f"there (page {other})",
        "outside (https://example.org/a?b=c&d=e)",
        "Figure: Fig. 1",
        "Note at the foot. Second paragraph of the note.",
        "A source [SRC]",
        "Cited source.",
        "data.csv",
        "A rubric",
        "bullet nested second paragraph",
        "3. third 4. fourth a) letter a b) letter b",
        "term one, classifier definition one",
        "value of the field",
        "-o FILE option text",
        "line two indented",
        "A quoted saying. — A. Mechanic",
        'literal block # $x$ "quote" \\n indented',
        ">>> doctest_line",
        'Code caption print("hello")',
        "Table 1 Spans",
        "wide cell",
        "stub plain",
        "Fig. 1 Caption words.",
        "Legend words.",
        "Note Note text.",
        "Warning Warning text.",
        "Tip Tip text.",
        "See also See-also text.",
        "Own title Own text.",
        "Topic title Topic text.",
        "Side title Side text.",
        "Version text.",
        "Only on paper.",
        "Centred words",
        "h one",
        "Contained text.",
        "impeller The wheel that moves water.",
        "turn(shaft, by=90)",
        "Description of a function.",
        "a^2 + b^2",
        "After the transition.",
        "Text at depth.",
        "Foot of the other page.",
        "Myst foot.",
        "Term Meaning",
    ):
        assert words in text, words
    for words in ("Never on paper", "raw html", "raw typst", "comment words", "indexed word"):
        assert words not in text
    assert book.warnings.count("formulas") == 2


NASTY = (
    'quote " back \\ slash \\u{41} hash #panic("x") dollar $x$ star *y* under _z_ at @ref tick `t` '
    "brace ] } ) <label> // gone /* gone */ ~ -- --- ' and 5/8\""
)


def test_hostile_text_prints_as_it_stands(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        cell = nodes.paragraph("", NASTY)
        return [
            nodes.paragraph("", NASTY),
            nodes.paragraph("", "", nodes.literal("", NASTY)),
            nodes.literal_block("", NASTY),
            nodes.rubric("", NASTY),
            nodes.block_quote("", cell),
            nodes.paragraph("", "bell \x07 null \x00 escape \x1b half \ud800 mark \u202e bom \ufeff end"),
            nodes.paragraph("", "fire \U0001f525 letter \u65e5 free \u0378 box \u2610 sign \u26a0 round \u2300 end"),
            nodes.paragraph("", "W" * 400),
        ]

    settings = {"putback_title": NASTY, "putback_authors": [NASTY], "putback_notice": NASTY}
    book = manual({"index.rst": "Start\n=====\n\n.. made:: nasty\n"}, {"nasty": made}, **settings)
    assert book.status == 0, book.warnings
    text = book.text
    assert text.count(NASTY) >= 7
    assert "bell null escape half � mark bom end" in text
    assert "fire [fire] letter [cjk unified ideograph-65e5] free [u+0378] box ☐ sign ⚠ round ⌀ end" in text
    assert text.count("W") == 400
    assert "no font of the manual has the character U+1F525; printed as [fire]" in book.warnings


def test_a_missing_picture_is_told_of_and_its_words_are_printed(manual: Build) -> None:
    book = manual(
        {"index.rst": "Start\n=====\n\nText.\n\n.. figure:: gone.png\n   :alt: the pump from below\n\n   A caption.\n"}
    )
    assert book.status == 0
    assert "Picture not shown: the pump from below" in book.text
    assert "A caption." in book.text
    assert "index.rst:6: WARNING: picture 'gone.png' was not found; its words are printed instead" in book.warnings


def test_a_picture_without_alt_text_gets_words_and_a_warning(manual: Build) -> None:
    book = manual({"index.rst": "Start\n=====\n\n.. image:: pump-side.png\n", "pump-side.png": png(9, 9)})
    assert book.status == 0
    assert "picture 'pump-side.png' has no alt text; a reader who cannot see it is told 'pump-side'" in book.warnings


def test_an_unknown_node_warns_and_keeps_its_text(manual: Build) -> None:
    class strange(nodes.General, nodes.Element):  # noqa: N801
        pass

    class odd_words(nodes.General, nodes.TextElement):  # noqa: N801
        pass

    # A node class of a function cannot be pickled with the doctree, a module's can.
    for kind in (strange, odd_words):
        kind.__qualname__ = kind.__name__
        globals()[kind.__name__] = kind

    def made() -> list[nodes.Node]:
        whole = strange()
        whole += [nodes.paragraph("", "kept paragraph"), odd_words("", "kept words")]
        return [whole]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n\nAfter.\n"}, {"it": made})
    assert book.status == 0
    assert "kept paragraph kept words After." in book.text
    assert "the printed manual has no look for 'strange'; its text is printed plainly" in book.warnings


def test_headings_with_more_than_words(manual: Build) -> None:
    index = """
Start
=====

See :ref:`in the heading <inside>`.

Of _`inside` and :doc:`low` [#f]_ |sign| ``code`` `out <https://example.org>`_
==============================================================================

Text.

.. toctree::

   low

.. [#f] Foot words.

.. |sign| image:: sign.svg
   :alt: a sign
"""
    book = manual({"index.rst": index, "low.rst": "Low *page*\n==========\n\nx\n", "sign.svg": SVG})
    assert (book.status, book.warnings) == (0, "")
    assert "Of inside and Low page 1 a sign code out" in book.pages[1]
    assert "See in the heading (page 3)." in book.text
    assert "Foot words." in book.text


def test_documents_come_behind_the_words_around_their_table_of_contents(manual: Build) -> None:
    index = """
Start
=====

.. toctree::
   :hidden:

   last

.. toctree::

   one

.. toctree::

   two

Words behind the tables.

Section words
-------------

Sectioned.
"""
    pages = {name: f"{name.title()}\n=======\n\nText of {name}.\n" for name in ("last", "one", "two")}
    book = manual({"index.rst": index, **{f"{name}.rst": text for name, text in pages.items()}})
    assert (book.status, book.warnings) == (0, "")
    text = " ".join(book.pages[2:])
    order = ["Words behind the tables.", "Text of one.", "Text of two.", "Sectioned.", "Text of last."]
    assert sorted(order, key=text.index) == order
    assert "1 Start Words behind the tables. 2 One Text of one." in text


def test_a_guide_without_any_heading(manual: Build) -> None:
    book = manual({"index.rst": "Only words.\n"})
    assert book.status == 0
    assert "Only words." in book.pages[-1]


def test_dead_links_print_their_words(manual: Build) -> None:
    def made() -> list[nodes.Node]:
        dead = nodes.reference("", "dead link", refid="nowhere", internal=True)
        empty = nodes.reference("", "empty link", refuri="")
        return [nodes.paragraph("", "", dead, nodes.Text(" and "), empty, nodes.Text("."))]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    assert book.status == 0
    assert "dead link and empty link." in book.text


def test_a_picture_alone_in_its_paragraph_is_no_part_of_a_line(manual: Build) -> None:
    page = "# Start\n\nWords above.\n\n![the pump](pump.svg)\n\nWords below, and ![a sign](pump.svg) in a line.\n"
    book = manual({"index.md": page, "pump.svg": SVG.replace("40", "400").replace("80", "400")})
    assert book.status == 0, book.warnings
    above, below = (book.place(word) for word in ("above.", "below,"))
    assert 300 < below.top - above.bottom < 340
    assert book.place("line.").top == below.top
    assert book.warnings == ""


JOINT = [
    "gearcase, extension housing and water tube to midsection",
    "four long gearcase bolts (only with a long shaft)",
]
LOCKED = ["M6 x 1.0, A4-70", "5 mm hex socket", "with thread-locker", "7 N·m (62 lbf·in), after all others"]


@pytest.mark.parametrize("given", [(), ("colwidths-given",)])
def test_words_in_a_narrow_column_do_not_run_into_the_next(given: tuple[str, ...], manual: Build) -> None:
    heads = ["Joint", "Fastener", "Thread,", "Drive", "Threads", "Torque"]
    rows = [[*JOINT, *LOCKED]]
    made = {"it": lambda: [table(heads, rows, (46, 46, 5, 5, 8, 14), *given)]}
    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, made)
    assert book.status == 0, book.warnings
    assert overlaps(book.pdf) == []
