"""Long lists go round Markdown and come back whole."""

from fifthpeg.pages.lifted import lift
from fifthpeg.pages.slots import fill

LIST = '<div class="fp-goes" id="what.follows" data-search-exclude>\n<ul><li>Weir <em>run</em></li></ul>\n</div>'
PAGES = {"licks/a.md": f"# A\n\n## After\n\n{LIST}\n\n## Before\n\n{LIST.replace('Weir', 'Mill')}\n", "licks/b.md": "# B\n"}


def test_a_page_filled_again_is_the_page_as_it_was():
    lifted, lists = lift(PAGES)
    assert "Weir" not in lifted["licks/a.md"] and "## Before" in lifted["licks/a.md"]
    assert {source: fill(text, lists.__getitem__)[0] for source, text in lifted.items()} == PAGES


def test_each_list_has_a_spot_of_its_own():
    assert len(lift(PAGES)[1]) == 2
