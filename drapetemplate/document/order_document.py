"""The order for many jobs as a document: pages to buy by, which are no part of any job's PDF."""

from __future__ import annotations

from collections.abc import Sequence

from drapetemplate.document.model import Document, Page, titled
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.planning.joint_doubts import Doubt
from drapetemplate.planning.joint_order import JointOrder
from drapetemplate.sheets.laid_paper import laid_paper
from drapetemplate.ticket.flow import paper_flow
from drapetemplate.ticket.order_pages import KIND, order_pages, order_paper, title


def order_document(order: JointOrder, doubts: Sequence[Doubt], typeface: Typeface) -> Document:
    """Return the order of one job or more as pages of letter or A4, by its jobs' paper."""
    paper = laid_paper(order_paper(order.jobs), None, order.jobs[0].units)
    pages = order_pages(order, doubts, paper_flow(paper, typeface))
    named = tuple(
        Page(f"{KIND} {n}", marks, "Order", f"{KIND} {n}", f"{KIND} {n}")
        for n, marks in enumerate(pages, 1)
    )
    return Document(
        titled(title(order)),
        paper.width,
        paper.height,
        named,
        (),
        subject="What to buy; no template",
    )
