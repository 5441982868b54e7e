"""Addresses are promises: other sites link to them."""

from pathlib import PurePosixPath

import pytest
from mkdocs.structure.files import File

from fifthpeg.pages.addresses import block_address, lick_address, page_url, relative


def test_a_lick_s_files_lie_where_the_documents_say():
    assert lick_address("weir-run").file("-slow.wav") == "media/licks/weir-run/weir-run-slow.wav"


def test_a_block_without_an_id_has_a_folder_by_its_content():
    assert block_address("0123456789abcdef", "tab").file(".mid") == "media/blocks/0123456789ab/tab.mid"


@pytest.mark.parametrize("page", ["", "about/", "lessons/one/", "lessons/one.html", "index.html"])
@pytest.mark.parametrize("target", ["media/bank/abc/", "licks/weir-run/", "licks/weir-run.html", ""])
def test_a_relative_address_leads_from_the_page_to_the_target(page, target):
    """By the rule of URLs (RFC 3986, 5.2): from the page's folder, each ``..`` one up."""
    way = PurePosixPath("/", page if page.endswith("/") else str(PurePosixPath(page).parent))
    for step in relative(target, page).split("/"):
        way = way.parent if step == ".." else way / step
    assert way == PurePosixPath("/", target)


@pytest.mark.parametrize("directory_urls", [True, False])
@pytest.mark.parametrize("source", ["licks/index.md", "licks/weir-run.md", "index.md", "a/b/c.md"])
def test_pages_get_the_addresses_mkdocs_gives_them(source, directory_urls):
    assert page_url(source, directory_urls) == File(source, None, "", directory_urls).url.removeprefix("./")
