"""What a reader of a page sees: texts that lie on each other, marks that leave the sheet."""

import numpy as np
import shapely

from planform.drawing.paper.marks import Area, Circle, Lettering, corners_of
from planform.drawing.paper.page import Page


def lettering(page: Page):
    return [mark for mark in page.marks() if isinstance(mark, Lettering) and mark.text.strip()]


def overlapping(page: Page, slack=0.15):
    """Pairs of texts whose boxes lie on each other, made smaller by a slack [mm]."""
    words = lettering(page)
    boxes = shapely.polygons([corners_of(one) for one in words])
    boxes = shapely.buffer(boxes, -slack)
    tree = shapely.STRtree(boxes)
    a, b = tree.query(boxes, predicate="intersects")
    return [(words[i].text, words[j].text) for i, j in zip(a, b, strict=True) if i < j]


def outside(page: Page):
    """Marks that leave the paper."""
    out = []
    for mark in page.marks():
        if isinstance(mark, Lettering):
            points = corners_of(mark)
        elif isinstance(mark, Area):
            points = np.concatenate(mark.rings)
        elif isinstance(mark, Circle):
            points = mark.points()
        else:
            points = mark.points
        low, high = points.min(axis=0), points.max(axis=0)
        if (low < -1e-6).any() or high[0] > page.paper.width or high[1] > page.paper.height:
            out.append(mark)
    return out


def crossed(page: Page, pens=("outline", "edge", "joint", "cut")):
    """Texts that thick lines of what is drawn run through."""
    lines = [
        shapely.linestrings(mark.points)
        for mark in page.marks()
        if getattr(mark, "pen", None) in pens
        and hasattr(mark, "points")
        and not isinstance(mark, Circle)
        and len(mark.points) > 1
    ]
    words = lettering(page)
    boxes = shapely.buffer(shapely.polygons([corners_of(one) for one in words]), -0.3)
    tree = shapely.STRtree(lines)
    hit = np.unique(tree.query(boxes, predicate="intersects")[0])
    return [words[k].text for k in hit]
