"""A job and its plan in words, as terminal, ticket and spreadsheet all say them."""

from drapetemplate.words.plan_words import (
    PARTS,
    bought,
    cloth_figures,
    cloth_rows,
    cut_line,
    figure_rows,
    made,
    order_rows,
    ordered,
)

__all__ = [
    "PARTS",
    "bought",
    "cloth_figures",
    "cloth_rows",
    "cut_line",
    "figure_rows",
    "made",
    "order_rows",
    "ordered",
]
