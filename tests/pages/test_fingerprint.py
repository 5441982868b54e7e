"""Keys by content: everything that can be heard or seen changes them, the place on the page does not."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given

from fifthpeg.model.problem import Place
from fifthpeg.pages.fingerprint import content_key, program_key, sound_key, text_key
from tests.generated import licks
from tests.written import lick

PLAIN = lick("id: a\n---\nT3 I2 M1 T5 I2 M1 T3 M1")


def test_moving_a_lick_down_the_page_keeps_its_key():
    moved = replace(PLAIN, place=Place("elsewhere.md", 99, 1))
    assert content_key(moved, "") == content_key(PLAIN, "")


def test_every_field_of_a_lick_is_in_its_key():
    changes = [{"title": "x"}, {"tempo": Fraction(1)}, {"capo": 2}, {"bounce": 60}, {"rights": "x"}, {"labels": ("x",)},
               {"id": None}, {"key": "D"}, {"exit_bars": 1}, {"after": "G"}, {"role": "tag"}, {"fifth": 7},
               {"tempos": (Fraction(1, 3), Fraction(1, 2), Fraction(1))}, {"shown_bars": (1,)}, {"bars": PLAIN.bars * 2}]
    keys = {content_key(replace(PLAIN, **change), "") for change in changes}
    assert len(keys | {content_key(PLAIN, "")}) == len(changes) + 1


def test_settings_and_program_are_in_the_key():
    assert content_key(PLAIN, "one") != content_key(PLAIN, "two")


@given(licks(), licks())
def test_keys_are_alike_exactly_where_licks_are(one, other):
    assert (content_key(one, "") == content_key(other, "")) == (one == other)


def test_words_do_not_run_into_one_another():
    assert text_key("ab", "c") != text_key("a", "bc")


def test_program_keys_are_steady_within_a_run():
    assert program_key() == program_key() and sound_key() == sound_key() and program_key() != sound_key()
