"""Clauses and notes as HTML: what is shown, and what never comes through."""

from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.prose.markdown import clause_parts, render_clause, render_note

ALLOWED = {
    "p", "span", "em", "strong", "a", "br", "ul", "ol", "li", "blockquote", "hr", "code",
    "h3", "h4", "h5", "h6",
}  # fmt: skip
ATTRIBUTES = {("span", "class"), ("a", "href"), ("a", "title"), ("ol", "start")}


class Seen(HTMLParser):
    """The elements of a piece of HTML, as a browser would take them."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str]] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, name, value or "") for name, value in attrs]

    def handle_data(self, data):
        self.text += data

    def handle_comment(self, data):
        self.tags.append("comment")

    handle_decl = handle_pi = unknown_decl = handle_comment


def test_a_clause_shows_its_degree_words():
    assert render_clause("A steep blade is a serious fault.") == (
        '<p>A steep blade is a <span class="degree">serious fault</span>.</p>\n'
    )


def test_a_clause_within_a_line_has_no_paragraphs():
    assert render_clause("Nearly *level*.", inline=True) == (
        '<span class="degree">Nearly</span> <em>level</em>.'
    )


def test_a_clause_is_never_a_list_or_a_heading():
    for text in ("35. Or more.", "# Head", "- low", "> said", "    four"):
        assert Seen(render_clause(text)).tags == ["p"]


def test_the_clubs_own_words_of_degree_are_shown_too():
    assert '<span class="degree">foul</span>' in render_clause("A foul gait.", readings={"foul": "serious"})


def test_degree_words_in_a_link_stay_plain():
    assert render_clause("[a serious fault](https://example.org/)", inline=True) == (
        '<a href="https://example.org/">a serious fault</a>'
    )


def test_a_clause_in_parts_has_the_same_words_of_degree():
    assert clause_parts("A *steep*\nblade is a serious fault & worse.") == [
        ("A ", False),
        ("steep", False),
        (" ", False),
        ("blade is a ", False),
        ("serious fault", True),
        (" & worse.", False),
    ]
    assert clause_parts("A foul gait.", readings={"foul": "serious"})[1] == ("foul", True)
    assert clause_parts("[a serious fault](https://example.org/)") == [("a serious fault", False)]


@given(st.text(alphabet="ab *_[]()\\\n#&<>", max_size=60))
def test_a_clause_in_parts_says_what_its_html_says(text):
    said = "".join(words for words, _degree in clause_parts(text))
    assert said.split() == Seen(render_clause(text, inline=True)).text.split()


def test_a_note_keeps_paragraphs_emphasis_lists_and_lowers_headings():
    html = render_note("# Look\n\nIn *7 a* the **line**.\n\n- one\n- two\n\n###### Deep")
    assert html == (
        "<h3>Look</h3>\n<p>In <em>7 a</em> the <strong>line</strong>.</p>\n"
        "<ul>\n<li>one</li>\n<li>two</li>\n</ul>\n<h6>Deep</h6>\n"
    )


@pytest.mark.parametrize("render", [render_clause, render_note])
@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "[x](javascript:alert(1))",
        "[x](JaVaScRiPt&#58;alert(1))",
        "[x](java\tscript:alert(1))",
        "[x](data:text/html,<script>)",
        "[x](//example.org)",
        "[x](/relative)",
        "<javascript:alert(1)>",
        "[x](vbscript:x 'onclick=y')",
        "[x]: javascript:alert(1)\n\n[x]",
        "![alt](https://example.org/a.png)",
        "![<b onmouseover=x>](https://example.org/a.png)",
        "<!-- comment -->",
        "<a href='https://example.org' onclick='x'>y</a>",
    ],
)
def test_known_tricks_give_no_element(render, text):
    assert set(Seen(render(text)).tags) <= {"p"}


def test_a_picture_is_replaced_by_its_description():
    assert render_note('![A <low> "tail"](https://example.org/a.png)') == (
        "<p>A &lt;low&gt; &quot;tail&quot;</p>\n"
    )


MARKS = """
[ ]( ) < > ! javascript: https://x.org mailto:a@b.c &#106; ` * ** " ' onclick= script <script> data: :// ]:
"""
PIECES = st.sampled_from(
    [
        *MARKS.split(),
        *["</p>", "<img src=x onerror=y>", "# ", "- ", "1. ", "serious fault", "\t", "\\", "_", "~~~"],
        *["&lt;", " ", "a", "|", "---", "<!--", "\0", "\n", "\n\n"],
    ]
)


@pytest.mark.parametrize(
    "render", [render_clause, lambda text: render_clause(text, inline=True), render_note]
)
@given(text=st.lists(PIECES, max_size=30).map("".join) | st.text(max_size=80))
@settings(max_examples=120)
def test_only_harmless_elements_ever_come_out(render, text):
    seen = Seen(render(text))
    assert set(seen.tags) <= ALLOWED
    assert {(tag, name) for tag, name, _ in seen.attributes} <= ATTRIBUTES
    addresses = [value.lower() for _, name, value in seen.attributes if name == "href"]
    assert all(address.startswith(("http://", "https://", "mailto:")) for address in addresses)


@pytest.mark.parametrize("render", [render_clause, render_note])
def test_a_link_without_an_address_is_its_words(render):
    assert render("See [clause *5.1*]() and [6](https://club.example/6).") == (
        '<p>See clause <em>5.1</em> and <a href="https://club.example/6">6</a>.</p>\n'
    )
