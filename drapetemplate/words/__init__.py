"""A job and its plan in words, as terminal, ticket and spreadsheet all say them."""
