"""What a setting takes, and what is said of anything else."""

import pytest

from fifthpeg.setting_values import key, number, one_of, some_of, switch, words

LEVEL = number(0, 200, "silent", "twice as loud as usual", "per cent")


@pytest.mark.parametrize(("read", "given", "value"), [
    (LEVEL, 0, 0), (LEVEL, 200, 200), (LEVEL, 40.5, 40.5), (switch, True, True), (one_of(22_050, 44_100), 44_100, 44_100),
    (some_of("slow", "full"), [], []), (some_of("slow", "full"), ["full"], ["full"]),
    (words, "own", "own"), (words, 2024, "2024"), (key, "G minor", "Gm"), (key, "Bb", "Bb"),
])
def test_what_makes_sense_is_taken(read, given, value):
    assert read(given) == value


@pytest.mark.parametrize(("read", "given", "told"), [
    (LEVEL, 201, "it takes a number between 0 (silent) and 200 (twice as loud as usual), in per cent, not 201"),
    (LEVEL, -0.5, ", not -0.5"),
    (LEVEL, "loud", ", not loud"),
    (LEVEL, True, ", not true"),
    (LEVEL, float("nan"), ", not nan"),
    (number(20, 400, unit="beats a minute"), 999, "it takes a number between 20 and 400, in beats a minute, not 999"),
    (switch, "maybe", "it takes true or false, not maybe"),
    (one_of("none", "small"), "cathedral", "it takes none or small, not cathedral"),
    (one_of(1, 2), True, "it takes 1 or 2, not true"),
    (some_of("slow", "full"), "fast", "it takes a list such as [slow, full], of slow and full ([] for none), not fast"),
    (some_of("slow", "full"), ["slow", "fast"], ", not [slow, fast]"),
    (words, ["a"], "it takes a few words, between quotation marks"),
    (key, "H", "it takes a key such as G, Gm, D or Bb, not H"),
])
def test_anything_else_is_told_with_what_would_do(read, given, told):
    with pytest.raises(ValueError) as refused:
        read(given)
    assert told in str(refused.value)
