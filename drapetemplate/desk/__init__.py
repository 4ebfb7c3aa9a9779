"""A page in the browser of this computer, where a panel is seen while it is decided."""
