"""Builds one site and prints the processor seconds it took and the most memory it held, in megabytes."""

import resource
import sys
import time

from mkdocs.commands.build import build
from mkdocs.config import load_config

BYTES_A_UNIT = 1 if sys.platform == "darwin" else 1024
"""Of ru_maxrss."""

before = time.process_time()
build(load_config(sys.argv[1]))
seconds = time.process_time() - before
print(seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * BYTES_A_UNIT / 1e6)
