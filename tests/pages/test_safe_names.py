"""Names for Windows and USB sticks. Rules and examples: Microsoft, "Naming Files, Paths, and Namespaces"."""

import pytest

from fifthpeg.pages.safe_names import MAX_PATH_CHARACTERS, unsafe_names


@pytest.mark.parametrize("path", [
    "licks/weir-run.html", "media/licks/weir-run/weir-run-full.wav", "content/über die brücke.html", ".nojekyll",
    "licks/console.html", "licks/com10.html", "licks/a.con.html", "a" * MAX_PATH_CHARACTERS])
def test_an_ordinary_name_passes(path):
    assert unsafe_names([path]) == []


@pytest.mark.parametrize(("path", "told"), [
    ("licks/con.html", "`con` for itself"),
    ("media/licks/NUL/NUL.svg", "`NUL` for itself"),
    ("licks/lpt9.tar.gz", "`lpt9` for itself"),
    ("licks/com¹.html", "for itself"),
    ("licks/aux .html", "for itself"),
    ("lessons/etc./page.html", "ends with a dot"),
    ("lessons/end ", "ends with a space"),
    ("lessons/why?.html", "'?' in it"),
    ("lessons/a:b.html", "':' in it"),
    ("lessons/tab\there.html", "in it"),
    ("a" * 100 + "/" + "b" * 100, "201 characters are too long"),
])
def test_a_name_that_would_not_arrive_is_told_with_its_path(path, told):
    faults = unsafe_names(["good.html", path])
    assert faults and all(fault.startswith(f"{path}: ") for fault in faults)
    assert any(told in fault for fault in faults)


@pytest.mark.parametrize(("one", "other"), [
    ("licks/Weir.html", "licks/weir.html"), ("Lessons/a.html", "lessons/b.html"),
    ("licks/caf\u00e9.html", "licks/cafe\u0301.html"), ("stra\u00dfe.html", "STRASSE.html")])
def test_names_that_differ_in_capitals_or_accents_only_clash(one, other):
    (fault,) = unsafe_names([one, other])
    assert "the same name as" in fault


def test_two_names_as_long_as_can_be_are_judged_in_utf_16():
    """A sign outside the first 65,536 takes two units there."""
    assert unsafe_names(["𝄞" * 99]) == []
    assert "200 characters" in unsafe_names(["𝄞" * 100])[0]
