"""A panel's plan in, its strip out: full scale, in panel coordinates."""
