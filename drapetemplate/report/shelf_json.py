"""A list of kept jobs as JSON."""

from __future__ import annotations

from typing import Any

from drapetemplate.report.shelf_text import doubt_told
from drapetemplate.shelf.listing import ListedJob, Listing

FORMAT = 1


def shelf_json(listing: Listing) -> dict[str, Any]:
    """Return a list as `shelf --json` prints it; what isn't known is None."""
    return {
        "format": FORMAT,
        "jobs": [_job(job) for job in listing.jobs],
        "kept": listing.kept,
        "undated": listing.undated,
        "doubts": [
            {
                "code": doubt.code,
                "text": doubt_told(doubt),
                "files": [str(path) for path in doubt.paths],
            }
            for doubt in listing.doubts
        ],
        "passed_over": [
            {"file": str(each.path), "reason": each.why} for each in listing.passed_over
        ],
    }


def _job(job: ListedJob) -> dict[str, Any]:
    return {
        "number": job.number,
        "name": job.name,
        "client": job.client,
        "room": job.room,
        "due": job.due.isoformat() if job.due else None,
        "panels": job.panels,
        "sheets": None if job.on_roll else job.sheets,
        "roll_pages": job.sheets if job.on_roll else None,
        "faults": job.faults,
        "files": [
            {"file": str(place.path), "kind": place.kind, "sha256": place.identity}
            for place in job.places
        ],
    }
