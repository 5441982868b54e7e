"""The cache on disk: what is whole is found, what is harmed is not."""

import os

import pytest

from fifthpeg.pages.shelf import Shelf, link_or_copy

FILES = {"tab.svg": b"<svg/>", "tab-slow.wav": bytes(1000)}


@pytest.fixture
def shelf(tmp_path) -> Shelf:
    return Shelf(tmp_path / "shelf")


def test_what_is_kept_is_found(shelf):
    shelf.keep("key", FILES)
    entry = shelf.find("key")
    assert {name: (entry / name).read_bytes() for name in FILES} == FILES


def test_what_was_never_kept_is_not_found(shelf):
    assert shelf.find("key") is None


@pytest.mark.parametrize("name", [*FILES, "list.json"])
@pytest.mark.parametrize("harm", [
    lambda path: path.unlink(),
    lambda path: path.write_bytes(b""),
    lambda path: path.write_bytes(path.read_bytes()[:-1]),
    lambda path: path.write_bytes(path.read_bytes() + b"x"),
    lambda path: path.write_bytes(bytes([path.read_bytes()[0] ^ 1]) + path.read_bytes()[1:]),
], ids=["gone", "empty", "cut", "longer", "one bit"])
def test_an_entry_with_any_file_harmed_is_not_found(shelf, name, harm):
    entry = shelf.keep("key", FILES)
    harm(entry / name)
    assert shelf.find("key") is None


def test_harm_that_leaves_size_and_date_is_seen_too(shelf):
    path = shelf.keep("key", FILES) / "tab-slow.wav"
    before = path.stat()
    path.write_bytes(b"\1" + path.read_bytes()[1:])
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert shelf.find("key") is None


def test_a_harmed_entry_is_replaced(shelf):
    (shelf.keep("key", FILES) / "tab.svg").write_bytes(b"")
    shelf.keep("key", FILES)
    assert shelf.find("key") is not None


def test_a_list_that_fails_its_own_checksum_proves_nothing(shelf):
    entry = shelf.keep("key", FILES)
    (entry / "list.json").write_bytes(b"deadbeef\n{}")
    assert shelf.find("key") is None


def test_nothing_half_written_is_left_where_writing_fails(shelf):
    with pytest.raises(TypeError):
        shelf.keep("key", {"tab.svg": b"<svg/>", "tab.mid": "not bytes"})
    assert shelf.find("key") is None
    assert list(shelf.folder.iterdir()) == []


def test_the_oldest_unused_entries_go_first(shelf):
    for age, key in enumerate(("oldest", "older", "used", "newest")):
        os.utime(shelf.keep(key, FILES), ns=(age * 10**9, age * 10**9))
    shelf.prune(used={"used"}, kept_unused=1)
    assert sorted(path.name for path in shelf.folder.iterdir()) == ["newest", "used"]


def test_pruning_a_shelf_that_is_not_there_does_nothing(shelf):
    shelf.prune(used=set())
    assert not shelf.folder.exists()


def test_a_published_file_has_the_kept_one_s_bytes(tmp_path):
    (tmp_path / "kept").write_bytes(b"sound")
    link_or_copy(str(tmp_path / "kept"), str(tmp_path / "site/media/x.wav"))
    assert (tmp_path / "site/media/x.wav").read_bytes() == b"sound"


def test_publishing_over_an_older_file_leaves_its_other_names_alone(tmp_path):
    (tmp_path / "old").write_bytes(b"old")
    (tmp_path / "new").write_bytes(b"new")
    link_or_copy(str(tmp_path / "old"), str(tmp_path / "x.wav"))
    link_or_copy(str(tmp_path / "new"), str(tmp_path / "x.wav"))
    assert (tmp_path / "x.wav").read_bytes() == b"new" and (tmp_path / "old").read_bytes() == b"old"


def test_where_files_cannot_have_two_names_they_are_copied(tmp_path, monkeypatch):
    def refuse(*_: object) -> None:
        raise OSError("not here")
    monkeypatch.setattr(os, "link", refuse)
    (tmp_path / "kept").write_bytes(b"sound")
    link_or_copy(str(tmp_path / "kept"), str(tmp_path / "site/x.wav"))
    assert (tmp_path / "site/x.wav").read_bytes() == b"sound"
