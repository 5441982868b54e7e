"""Long lists go round Markdown and come back whole."""

from fifthpeg.pages.lifted import lift
from fifthpeg.pages.slots import fill

LIST = '<div class="fp-goes" id="what.follows" data-search-exclude>\n<ul><li>Weir <em>run</em></li></ul>\n</div>'
FACTS = '<table class="fp-facts"><tbody><tr><th scope="row">Role</th> <td>tag</td></tr></tbody></table>'
OTHER = LIST.replace("Weir", "Mill")
PAGES = {"licks/a.md": f"# A\n\n{FACTS}\n\n## After\n\n{LIST}\n\n## Before\n\n{OTHER}\n", "licks/b.md": "# B\n"}


def test_a_page_filled_again_is_the_page_as_it_was():
    lifted = lift(PAGES)
    assert "Weir" not in lifted.pages["licks/a.md"] and "## Before" in lifted.pages["licks/a.md"]
    assert {source: fill(lifted.with_facts(text), lifted.lists.__getitem__)[0]
            for source, text in lifted.pages.items()} == PAGES


def test_each_list_has_a_spot_of_its_own():
    assert len(lift(PAGES).lists) == 2


def test_facts_come_back_by_themselves_so_that_the_search_finds_them():
    lifted = lift(PAGES)
    assert "Role" not in lifted.pages["licks/a.md"]
    back = lifted.with_facts(lifted.pages["licks/a.md"])
    assert FACTS in back and "Weir" not in back


def test_facts_inside_a_list_stay_with_it():
    told = f'<div class="fp-told">{FACTS}\n</div>'
    lifted = lift({"licks/a.md": told})
    assert not lifted.facts and [*lifted.lists.values()] == [told]
