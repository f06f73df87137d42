"""Pages as files: one table of what kinds there are, by the endings of their names."""

from __future__ import annotations

from collections.abc import Sequence

from planform.drawing.paper.page import Page

ENDINGS = ("pdf", "svg", "dxf", "png")
"""The kinds of files that pages are written as."""
OF_ONE = ENDINGS[1:]
"""Those that hold one page each."""


def written_as(pages: Sequence[Page], ending: str, title: str) -> bytes:
    """Pages as the content of one file.

    ending : one of ENDINGS; more than one page goes into a PDF alone
    title : of the whole, where the file holds one
    """
    if ending == "pdf":
        from planform.drawing.writers.pdf import pdf

        return pdf(pages, title)
    (page,) = pages
    if ending == "svg":
        from planform.drawing.writers.paper_svg import svg_page

        return svg_page(page).encode("utf-8")
    if ending == "dxf":
        from planform.drawing.writers.dxf import dxf_page

        return dxf_page(page)
    from planform.drawing.writers.paper_png import png_page

    return png_page(page)
