"""A job and its plan in words, as terminal, ticket and spreadsheet all say them."""

from drapetemplate.words.figures import (
    Figure,
    cloth_figures,
    in_full,
    in_short,
    window_figures,
)
from drapetemplate.words.plan_words import (
    PARTS,
    amount_to_order,
    assumed_where,
    cut_line,
    eyelets_to_buy,
    measured_from,
    order_rows,
    packs_of,
    panels_to_make,
)

__all__ = [
    "PARTS",
    "Figure",
    "amount_to_order",
    "assumed_where",
    "cloth_figures",
    "cut_line",
    "eyelets_to_buy",
    "in_full",
    "in_short",
    "measured_from",
    "order_rows",
    "packs_of",
    "panels_to_make",
    "window_figures",
]
