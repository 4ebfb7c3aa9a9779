"""A strip in, its sheets out: where they join, how they lie on paper, what each carries."""
