"""A job file's bytes in, a `Job` out: every key read, every default filled in and remembered."""
