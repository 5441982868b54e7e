"""Model or samples -> bytes in open formats."""
