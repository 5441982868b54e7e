"""What chain and fit blocks are read as: links, parts, repairs, and what a chain takes from its links."""

from fractions import Fraction

import pytest
from fifthpeg.analysis.chain import link_up
from fifthpeg.analysis.changes import NAMES
from fifthpeg.model.chain import MAX_LINKS, REPAIR_NAMES
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from fifthpeg.reading.parse import Defaults

RUN = ("id: weir-run\ntempo: 208\nkey: D\nlabels: [driving]\n---\n"
       "[D7] T3 I2 M1 T4 I3 M1 T3 I2 | T3 I2 M1 T4 I3 M1 T3 I2")
TAG = ("id: sluice-tag\nrole: tag\ntempo: 160\nbounce: 60\nexit: 1\nafter: D7\n---\n"
       "[G] M1 T5 I2 M1 T3 I2 M1 T5 | T3 I2 M1 T5 I2 M1 T3 I2 | T3 - - - T5+M1 - - -")
CLASHING = "id: hot\ntempo: 208\n---\nM1 I2 T3 I2 M1 I2 T3 M1"


def library(*blocks: str, defaults: Defaults = Defaults()):
    """``blocks`` begin with their name and a line end."""
    page = "\n".join(f"```{block}\n```\n" for block in blocks)
    return read_library(find_fences(page, "page.md").blocks, defaults, link_up=link_up)


def course(*blocks: str, defaults: Defaults = Defaults()):
    return library("tab\n" + RUN, "tab\n" + TAG, "tab\n" + CLASHING, *blocks, defaults=defaults)


def chained(header: str, *more: str, defaults: Defaults = Defaults()):
    read = course(f"chain\n{header}", *more, defaults=defaults)
    assert not read.problems, read.problems
    return list(read.chains.values())[0]


def asked(header: str, defaults: Defaults = Defaults()):
    return chained(header, defaults=defaults).lick.chain


def fit(header: str, *more: str):
    read = course(*more, f"fit\n{header}")
    assert not read.problems, read.problems
    (request,) = read.fits.values()
    return request


@pytest.mark.parametrize("links", [
    "links: [weir-run, sluice-tag]", "links: weir-run, sluice-tag", "links: [{id: weir-run}, { id :sluice-tag }]",
    "links:\n  - weir-run\n  - {id: sluice-tag}", "links:\n- weir-run\n\n# the tag\n- sluice-tag",
    "---\nlinks: [weir-run,,sluice-tag,]"])
def test_links_may_be_written_in_a_row_or_one_a_line(links):
    assert [link.lick.id for link in asked(links).links] == ["weir-run", "sluice-tag"]


def test_a_link_knows_where_it_stands():
    read = course("chain\nlinks: [weir-run,  {id: sluice-tag, bars: 1-2}]")
    (chain,) = (made.lick.chain for made in read.chains.values())
    line = "links: [weir-run,  {id: sluice-tag, bars: 1-2}]"
    for link in chain.links:
        assert link.quote == line
    assert [line[link.place.column - 1:][:link.place.width] for link in chain.links] == [
        "weir-run", "{id: sluice-tag, bars: 1-2}"]


def test_a_part_of_a_lick_keeps_its_bar_numbers():
    (part, whole) = asked("links: [{id: weir-run, bars: 2}, sluice-tag]").links
    assert part.lick.shown_bars == (2,) and part.lick.shows == "weir-run"
    assert whole.lick.shown_bars is None


def test_a_part_of_a_chain_can_be_a_link_and_so_can_a_chain():
    read = course("chain\nid: both\nlinks: [weir-run, sluice-tag]",
                  "chain\nid: more\nlinks: [{id: both, bars: 1-2}, both]")
    assert not read.problems
    part, whole = read.licks["more"].chain.links
    assert part.lick.shown_bars == (1, 2) and whole.lick is read.licks["both"]


def test_a_chain_can_be_written_before_its_links():
    read = library("chain\nid: outer\nlinks: [inner]", "chain\nid: inner\nlinks: [weir-run]", "tab\n" + RUN)
    assert not read.problems and list(read.licks) == ["outer", "inner", "weir-run"]


def test_a_variant_is_as_good_a_link_as_any():
    read = course("tab\nid: dark\nfrom: sluice-tag\nchange:\n- 1 -> 1:3", "chain\nlinks: [weir-run, dark]")
    (made,) = read.chains.values()
    assert made.lick.chain.links[1].lick.varies == "sluice-tag"


def test_a_long_row_of_chains_in_chains_is_no_trouble():
    rows = [f"chain\nid: c{n}\nlinks: [{f'c{n + 1}' if n < 1500 else 'weir-run'}]" for n in range(1501)]
    assert len(library(*rows, "tab\n" + RUN).chains) == 1501


def test_a_repair_belongs_to_the_seam_after_its_link():
    made = chained("links: [{id: hot, repair: hold}, hot]")
    assert [link.repair for link in made.lick.chain.links] == ["hold", None]
    assert made.seams[0].repair.name == "hold" and made.seams[0].join.verdict == "clean"


def test_a_repair_behind_the_last_link_is_the_loops():
    made = chained("links: [{id: hot, repair: hold}]\nloop: yes")
    assert made.loop.repair.name == "hold" and made.loop.join.verdict == "clean"


def test_the_repairs_that_can_be_asked_for_are_those_there_are():
    assert REPAIR_NAMES == NAMES


@pytest.mark.parametrize("line, bars", [("", 5), ("exit: yes", 5), ("exit: no", 4)])
def test_the_last_link_keeps_its_exit_unless_told_not_to(line, bars):
    made = chained(f"links: [weir-run, sluice-tag]\n{line}")
    assert len(made.lick.bars) == bars and made.lick.exit_bars == bars - 4


def test_exits_inside_fall_away_those_of_a_chain_used_as_a_link_too():
    read = course("chain\nid: both\nlinks: [weir-run, sluice-tag]", "chain\nid: three\nlinks: [both, weir-run]")
    assert len(read.licks["three"].bars) == 6


def test_looping_and_context_are_said_or_not():
    assert (asked("links: [weir-run]").loop, asked("links: [weir-run]").context) == (False, False)
    chain = asked("links: [weir-run]\nloop: yes\ncontext: yes\nafter: G")
    assert (chain.loop, chain.context) == (True, True)
    assert not asked("links: [weir-run]\nloop: no").loop


def test_a_clash_at_the_loop_matters_only_where_looping_is_meant():
    assert [problem.kind for problem in course("chain\nlinks: [hot]\nloop: yes").problems] == ["seam-clash"]
    assert course("chain\nlinks: [hot]").problems == ()


@pytest.mark.parametrize("header", ["links: [hot, hot]", "links: [{id: weir-run, repair: hold}, sluice-tag]",
                                    "links: [{id: hot, repair: single}, hot]"])
def test_a_chain_is_drawn_whatever_its_seams_are_like(header):
    read = course(f"chain\nid: drawn\n{header}")
    assert len(read.problems) == 1 and read.licks["drawn"].links
    (problem,) = read.problems
    assert problem.place.line == max(block.line for block in read.by_block) + 2


def test_what_a_chain_does_not_say_it_takes_from_its_first_link():
    lick = chained("links: [weir-run, sluice-tag]").lick
    assert (lick.tempo, lick.bounce, lick.key, lick.after) == (208, 50, "D", "")
    assert lick.labels == ()
    assert chained("links: [sluice-tag, weir-run]").lick.after == "D7"


def test_what_a_chain_says_goes_before_what_its_links_say():
    lick = chained("links: [weir-run, sluice-tag]\ntempo: 120\nbounce: 66\nkey: G\nafter: C\nrole: break\n"
                   "labels: [long]\nrights: own\ntitle: Mill pond\ntempos: [60, 90, 120]").lick
    assert (lick.tempo, lick.bounce, lick.key, lick.after, lick.role) == (120, 66, "G", "C", "break")
    assert (lick.labels, lick.rights, lick.title) == (("long",), "own", "Mill pond")
    assert lick.tempos == (Fraction(1, 2), Fraction(3, 4), 1)


def test_tempos_in_beats_are_measured_by_the_first_links_tempo():
    assert chained("links: [weir-run]\ntempos: [104, 156, 208]").lick.tempos == (Fraction(1, 2), Fraction(3, 4), 1)


def test_a_role_that_all_links_share_is_the_chains():
    assert asked("links: [sluice-tag, sluice-tag]").role == "tag"
    assert asked("links: [sluice-tag, weir-run]").role == "lick"


def test_rights_are_the_sites():
    assert asked("links: [weir-run]", Defaults(rights="Millrace")).rights == "Millrace"


def test_a_title_is_the_id_in_words_or_the_links_titles_in_a_row():
    assert asked("id: weir-then-tag\nlinks: [weir-run, sluice-tag]").title == "Weir then tag"
    assert asked("links: [weir-run, {id: sluice-tag, bars: 1}]").title == "Weir run, then Sluice tag"
    assert asked(f"links: [{', '.join(['weir-run'] * MAX_LINKS)}]").title == f"Weir run, then {MAX_LINKS - 1} more"


def test_a_chain_shares_the_namespace_of_licks():
    read = course("chain\nid: both\nlinks: [weir-run]", "tab\nshow: both\nbars: 2",
                  "tab\nid: last\nafter: both\n---\n" + "T3 - " * 4)
    assert not read.problems
    shown = next(lick for lick in read.by_block.values() if lick.shows == "both")
    assert shown.shown_bars == (2,) and shown.links


def test_a_later_pick_up_finds_room_over_a_hold_or_once_a_repair_has_made_some():
    pickup, ending = "tab\nid: in\npickup: 1\n---\nM1 | T3 I2 M1 T5 I2 M1 T3 I2", "chain\nlinks: [{id: hot%s}, in]"
    assert [problem.kind for problem in course(pickup, ending % "").problems] == ["bad-pickup"]
    assert course(pickup, ending % ", repair: hold").problems == ()
    roomy = "tab\nid: roomy\n---\nT3 I2 M1 T5 I2 M1 T3 -"
    assert course(pickup, roomy, "chain\nlinks: [roomy, in]").problems == ()


def test_a_chain_needs_someone_to_put_it_together():
    blocks = find_fences("```tab\n" + RUN + "\n```\n\n```chain\nlinks: [weir-run]\n```\n", "page.md").blocks
    with pytest.raises(TypeError, match="puts chains together"):
        read_library(blocks)


def test_a_short_string_said_outright_is_like_one_left_to_the_capo():
    """With a capo at 2 the short string goes up to fret 7: two makers' pages."""
    body = "---\nT3 I2 M1 T5 I2 M1 T3 I2"
    read = library(f"tab\nid: a\ncapo: 2\n{body}", f"tab\nid: b\ncapo: 2\nfifth: 7\n{body}", "chain\nlinks: [a, b]")
    assert not read.problems


def test_a_fit_says_how_many_bars_over_which_chord():
    request = fit("fill: 6\nover: G")
    assert (request.bars, request.over, request.after, request.most) == (6, "G", None, 5)
    assert request.roles == request.keys == request.labels == request.with_ids == ()


def test_a_fit_follows_a_chord_a_lick_or_a_chain():
    assert fit("fill: 6\nover: G\nafter: D7").after == "D7"
    assert fit("fill: 6\nover: G\nafter: weir-run").after.id == "weir-run"
    assert fit("fill: 6\nover: G\nafter: both", "chain\nid: both\nlinks: [weir-run]").after.links


def test_a_fit_narrows_the_library_by_one_value_or_some():
    request = fit("fill: 64\nover: G\nmost: 64\nwith: {role: tag, label: [driving, bluesy], key: [G, D minor]}\n"
                  "tempo: 200\nbounce: 60\ntitle: Late singer")
    assert (request.roles, request.labels, request.keys) == (("tag",), ("driving", "bluesy"), ("G", "Dm"))
    assert (request.bars, request.most, request.tempo, request.bounce, request.title) == (64, 64, 200, 60,
                                                                                          "Late singer")


@pytest.mark.parametrize("ids", ["[weir-run, sluice-tag]", "weir-run, sluice-tag", "\n  - weir-run\n  - sluice-tag"])
def test_a_fit_may_name_the_licks_to_use_and_no_others(ids):
    assert fit(f"fill: 6\nover: G\nwith: {ids}").with_ids == ("weir-run", "sluice-tag")


def test_a_fit_may_use_a_chain():
    assert fit("fill: 6\nover: G\nwith: [both]", "chain\nid: both\nlinks: [weir-run]").with_ids == ("both",)
