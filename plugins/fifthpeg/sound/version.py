"""Part of every cache key: raise it whenever any sample could change."""

SYNTHESIS_VERSION = 7
