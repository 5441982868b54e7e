"""What the player weighs on the way to a phone."""

import gzip

from fifthpeg.pages.assets import SCRIPT_ADDRESS, asset_files

MOST_BYTES = 40_000


def test_all_scripts_together_weigh_at_most_40_kb_gzipped():
    """As the common web servers pack them, at level 6."""
    script = asset_files()[SCRIPT_ADDRESS].encode()
    assert len(gzip.compress(script, 6)) <= MOST_BYTES
    assert len(script) > MOST_BYTES, "all of them are counted"
