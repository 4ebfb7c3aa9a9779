"""The pages to read: job ticket, cutting pages, assembly pages, and their pictures."""
