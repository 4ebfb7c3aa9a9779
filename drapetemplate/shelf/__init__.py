"""Jobs that are kept, as job files and as PDFs: found, and told apart."""
