"""From a job to a plan: pure arithmetic over frozen values, no file and no page."""
