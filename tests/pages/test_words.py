"""Facts in a player's words."""

from fractions import Fraction

from fifthpeg.model.findings import Join, Repair, Roll
from fifthpeg.pages import hands_words, words
from tests.written import lick

BAR = "T3 I2 M1 T5 I2 M1 T3 M1"


def test_a_whole_tempo_has_no_decimal_point():
    assert words.beats(Fraction(208)) == "208 beats a minute"
    assert words.beats(Fraction(625, 10)) == "62.5 beats a minute"


def test_bars_are_counted_without_the_pick_up_which_is_named():
    assert words.bars(lick(f"pickup: 2\n---\nT3 I2 | {BAR}")) == "1 bar and a pick-up"
    assert words.bars(lick(f"{BAR} | {BAR}")) == "2 bars"


def test_an_exit_is_told_by_its_bars():
    assert words.way_out(lick(f"exit: 1\n---\n{BAR} | {BAR} | {BAR}")).startswith("bar 3 only shows")
    assert words.way_out(lick(f"exit: 2\n---\n{BAR} | {BAR} | {BAR}")).startswith("bars 2 to 3 only show")
    assert words.way_out(lick(BAR)) == ""


def test_a_tuning_is_named_and_spelt_from_the_fifth_string():
    assert words.tuning(lick(BAR)) == "open G (G4 D3 G3 B3 D4)"


def test_a_capo_takes_the_short_string_along():
    """Capo 2 raises it to fret 7 (two makers' pages)."""
    assert words.tuning(lick(f"capo: 2\n---\n{BAR}")).endswith("capo at fret 2, 5th string raised to fret 7")


def test_a_short_string_left_down_is_told():
    assert words.tuning(lick(f"capo: 2\nfifth: 0\n---\n{BAR}")).endswith("capo at fret 2")


def test_rolls_are_named_once_with_their_bars():
    found = (Roll(1, "forward"), Roll(2, "backward"), Roll(3, "forward"), Roll(5, "forward"))
    assert hands_words.rolls(found) == "forward (bars 1, 3 and 5); backward (bar 2)"


def test_a_clash_says_who_how_fast_and_from_which_tempo():
    said = hands_words.join(Join("clash", ("M",), 6.93, 195))
    assert said == ("clash: middle picks twice in a row, 6.9 times a second at full tempo; "
                    "a clash above 195 beats a minute")


def test_two_fingers_at_once_are_both_named():
    assert hands_words.join(Join("tight", ("T", "M"))).startswith("tight: thumb and middle pick twice")


def test_a_clean_join_says_so_in_words():
    assert hands_words.join(Join("clean")).startswith("clean: no right-hand finger")


def test_repairs_are_sentences_in_the_order_offered():
    offers = (Repair("hold", "hold the G before"), Repair("thumb", "give the D to the thumb"))
    assert hands_words.offers(Join("clash", ("M",), 6.93, 195.0, offers)) == ("Hold the G before.", "Give the D to the thumb.")
    assert hands_words.offers(Join("clean")) == ()
