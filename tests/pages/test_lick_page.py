"""What a lick's page says of the hands, of where the lick fits, and of its seams."""

from dataclasses import replace
from fractions import Fraction

import pytest

from fifthpeg.compiled import Facts
from fifthpeg.model.cell_words import CellWords
from fifthpeg.model.chain import Chain
from fifthpeg.model.findings import CLASH, CLEAN, Join, Repair, RepeatedFinger, Roll, Seam
from fifthpeg.model.harmony import Colour, Doubt, Harmony, Stretch
from fifthpeg.model.left_hand import LeftHand, Position, WideSpan
from fifthpeg.model.lick import Linked
from fifthpeg.pages import hands_words, harmony_words
from fifthpeg.pages.catalogue import catalogue_markdown
from fifthpeg.pages.extras import repaired_spot, small_tabs
from fifthpeg.pages.generated import generated_pages, lick_spots
from tests.pages.made import tab
from tests.pages.test_pages import NASTY, parsed

HOLD = Repair("hold", "hold the G before")
CLASHING = Join(CLASH, ("M",), 6.93, 195.0, (HOLD,))


def page(made, *others, **more) -> str:
    return generated_pages([made, *others], {}, True, **more)["licks/a.md"]


def test_half_bars_are_named_after_the_whole_ones():
    found = (Roll(1, "forward"), Roll(2, "forward", 1), Roll(2, "backward", 2))
    assert hands_words.rolls(found) == "forward (bar 1, first half of bar 2); backward (second half of bar 2)"


def test_a_mark_says_where_which_finger_how_fast_and_from_which_tempo():
    marked = replace(tab("id: a", Facts(repeats=(RepeatedFinger(("T",), 1, 4, 6.93, CLASH, 195.0),))),
                     cells=(CellWords(1, 4, 1, "the and of beat 2", "thumb"),))
    assert hands_words.marks(marked) == ("bar 1, the and of beat 2: clash, thumb picks twice in a row, "
                                         "6.9 times a second at full tempo; a clash above 195 beats a minute",)


def test_a_lick_without_marks_says_that_it_has_none():
    assert hands_words.NO_REPEAT in page(tab("id: a"))


def test_positions_are_named_with_their_places():
    held = LeftHand({}, (Position(1, 1, 1), Position(2, 3, 5)), ())
    assert hands_words.positions(tab("id: a", Facts(left=held))) == (
        "first position from bar 1, slot 1; fifth position from bar 2, slot 3")


def test_a_wide_stretch_comes_with_its_millimetres_and_a_word_of_care():
    """A site can only advise; pain is for a doctor or a physiotherapist."""
    wide = LeftHand({}, (), (WideSpan(1, 1, (1, 5), 129.8),))
    said = page(tab("id: a", Facts(left=wide)))
    assert "frets 1 and 5, 130 mm" in said and "physiotherapist" in said


def test_nobody_is_warned_of_a_stretch_that_is_not_there():
    assert "physiotherapist" not in page(tab("id: a"))


@pytest.mark.parametrize("length, said", [
    (Fraction(1), "one bar"), (Fraction(2), "two bars"), (Fraction(1, 2), "half a bar"),
    (Fraction(3, 2), "one and a half bars"), (Fraction(1, 4), "a quarter of a bar"), (Fraction(13), "13 bars")])
def test_lengths_are_said_in_bars(length, said):
    assert harmony_words.bars(length) == said


def fitted(*colours, doubts=()):
    over = Stretch("G", Fraction(2), Fraction(0)), Stretch("D7", Fraction(1), Fraction(8))
    return tab("id: a", Facts(harmony=Harmony(over, None, colours, doubts)))


def test_chords_are_said_with_their_lengths():
    assert harmony_words.over(fitted()) == "over G for two bars, then D7 for one bar"


def test_a_note_can_be_blue_and_outside_the_chord():
    blue = fitted(Colour("p1", 1, 2, "Bb", "G", "flat third"), Colour("p2", 1, 4, "A", "G", None))
    assert harmony_words.outside(blue) == ("Bb outside G: bar 1, slot 2", "A outside G: bar 1, slot 4")
    assert harmony_words.blue_notes(blue) == ("Bb, the flat third: bar 1, slot 2",)


def test_a_doubt_about_a_chord_is_put_gently():
    assert "Worth a second look" in page(fitted(doubts=(Doubt("G", 1, 1, 8, "D7", "is it meant?"),)))
    assert "Worth a second look" not in page(fitted())


def test_a_pick_up_without_room_is_told():
    assert hands_words.join(Join(CLEAN, has_room=False)).endswith(hands_words.NO_ROOM)


def chained(**seam):
    links = Linked("b", "Beta", (1, 1)), Linked("c", f"Gamma {NASTY}", (3, 1))
    made = tab("id: a\ntitle: Row", Facts(seams=(Seam(0, "b", "c", Fraction(8), **seam),)))
    return replace(made, lick=replace(made.lick, chain=Chain((), loop=True), links=links))


def test_a_seam_names_its_links_its_place_and_its_verdict():
    said = page(chained(join=CLASHING), tab("id: b"))
    assert '<a href="../b/">Beta</a> into Gamma' in said and "bar 3, slot 1: clash: middle picks twice" in said


def test_a_seam_offers_repairs_with_what_to_write():
    assert "Hold the G before. Write <code>{id: b, repair: hold}</code>" in page(chained(join=CLASHING))


def test_a_mended_seam_says_how_it_is_mended_and_offers_nothing():
    said = page(chained(join=Join(CLEAN), repair=HOLD, unrepaired=CLASHING))
    assert "Mended: Hold the G before." in said and "Without it: clash" in said and "<code>" not in said


def test_a_seam_that_nothing_mends_says_so():
    assert "No small change would mend it." in page(chained(join=replace(CLASHING, repairs=())))


def test_a_chain_s_page_is_html_without_a_fault():
    parsed(page(chained(join=CLASHING)).split("\n\n", 1)[1])


def test_a_chain_says_its_links_in_the_catalogue():
    assert "links: Beta, then Gamma" in catalogue_markdown([chained(join=CLASHING)], True)


def test_small_tabs_stand_in_folds_where_there_are_any():
    made, small = tab("id: a\nafter: D7", Facts(loop=CLASHING)), tab("title: Small")
    extras = small_tabs(contexts={"a": small}) | {repaired_spot("a"): small}
    said = page(made, extras=extras)
    assert said.count("<details") == 2 and "<details" not in page(made)
    assert set(lick_spots([made], extras)) == {("licks/a.md", line) for line in (0, 2, 3)}


def test_each_seam_of_a_chain_has_a_place_of_its_own():
    assert len(small_tabs(seams={("a", 0): tab(""), ("a", 1): tab(""), ("b", 0): tab("")})) == 3


def test_the_catalogue_offers_rolls_of_half_bars_too():
    tabs = [tab("id: a", Facts(half_rolls=(Roll(1, "backward", 2),))),
            tab("id: b", Facts(rolls=(Roll(1, "forward"),)))]
    form = parsed(catalogue_markdown(tabs, True).split("\n\n", 1)[1])
    rolls = next(select for select in form.iter("select") if select.get("name") == "fp-roll")
    assert [option.text for option in rolls.iter("option")] == ["any", "backward", "forward"]
