"""Results -> HTML fragments, generated pages, files."""
