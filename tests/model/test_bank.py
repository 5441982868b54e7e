"""Names of bank notes: one for each sound, and back."""

import pytest

from fifthpeg.model.bank import BankNote

NAMES = {
    "3-57-2-pick": BankNote(3, 57, 2),
    "2-60-1-hammer-on": BankNote(2, 60, 1, "hammer-on"),
    "3-55-0-pull-off-2": BankNote(3, 55, 0, "pull-off", 2),
    "1-81-7-chime-3": BankNote(1, 81, 7, "chime", 3),
    "4-0-0-damped": BankNote(4, 0, 0, "damped"),
}


@pytest.mark.parametrize("name", NAMES)
def test_a_name_stands_for_one_note(name):
    assert BankNote.from_name(name) == NAMES[name]
    assert NAMES[name].name == name


@pytest.mark.parametrize("name", ["", "3-57-2", "3-57-2-", "3-57-2-pick-", "three-57-2-pick", "3-57-2-pick.js"])
def test_other_names_are_refused(name):
    with pytest.raises(ValueError, match="3-57-2-pick"):
        BankNote.from_name(name)
