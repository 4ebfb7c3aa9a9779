"""The job into a PDF that lasts, and out of one that isn't trusted."""

from drapetemplate.record.read import NAME, job_in, settings_in
from drapetemplate.record.write import as_record

__all__ = ["NAME", "as_record", "job_in", "settings_in"]
