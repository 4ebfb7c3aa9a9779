"""The job into a PDF that lasts, and out of one that isn't trusted."""
