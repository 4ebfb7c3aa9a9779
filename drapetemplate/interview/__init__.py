"""The questions of `new`, as data and as a machine of frozen states, asked anywhere."""
