"""Which passes over a page that Putback made are left out: those that look for what can only stand in written pages.

docutils and Sphinx go over each page about forty times, for footnotes, substitutions, catalogues of their own, and so
on. A page of a job has many nodes, and none of these.
"""

from __future__ import annotations

from docutils import nodes
from docutils.transforms import frontmatter, references, universal
from sphinx import transforms
from sphinx.builders.latex.transforms import FootnoteDocnameUpdater
from sphinx.domains import citation
from sphinx.transforms import i18n

from putback.sphinxext.sources import lends

LEFT_OUT = frozenset(
    {
        # Catalogues as Sphinx reads them; ours have been read before. The first also notes places for them.
        transforms.ApplySourceWorkaround, transforms.ExtraTranslatableNodes, i18n.PreserveTranslatableMessages,
        i18n.Locale, i18n.TranslationProgressTotaliser, i18n.AddTranslationClasses, i18n.RemoveTranslatableInline,
        # What is only written by hand: `|name|`, code, glossaries, footnotes, citations, targets, the head of a file.
        transforms.DefaultSubstitutions, references.Substitutions, transforms.MoveModuleTargets,
        transforms.HandleCodeBlocks, transforms.AutoIndexUpgrader, transforms.DoctestTransform,
        transforms.GlossarySorter, citation.CitationDefinitionTransform, citation.CitationReferenceTransform,
        references.Footnotes, FootnoteDocnameUpdater, references.AnonymousHyperlinks, references.IndirectHyperlinks,
        frontmatter.DocTitle, frontmatter.DocInfo, frontmatter.SectionSubTitle, universal.StripComments,
        universal.Decorations, universal.ExposeInternals,
    }
)  # fmt: skip
"""The passes, by their classes."""


def leave_out(document: nodes.document) -> None:
    """Take these passes from those that a page is going to have, when `putback build` makes the book.

    In a project of others, catalogues or extensions of theirs may want any of them.
    """
    if lends():
        passes = document.transformer.transforms
        passes[:] = [each for each in passes if each[1] not in LEFT_OUT]
