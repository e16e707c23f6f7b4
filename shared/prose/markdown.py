"""Clauses and notes as safe HTML.

No markup of the writer's passes through; links go to http, https and mailto addresses only; a picture is
replaced by its description. The result is a plain `str`: whoever puts it into a page marks it safe.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import EnvType, OptionsDict

from shared.prose.degree_words import DEFAULT_READINGS, find_degree_words

_ADDRESS = re.compile(r"(?:https?://|mailto:)[^\s\\]+", re.IGNORECASE)
_DEEPEST_HEADING = 6


class _SafeMarkdown(MarkdownIt):
    def validateLink(self, url: str) -> bool:  # noqa: N802, the library's name
        return _ADDRESS.fullmatch(url) is not None


def render_clause(
    text: str, *, inline: bool = False, readings: Mapping[str, str | None] = DEFAULT_READINGS
) -> str:
    """A clause in HTML: `<p>` for each paragraph, words of degree in `<span class="degree">`.

    `readings` adds the club's own words of degree. With `inline` the paragraphs run on without `<p>`, for
    labels and headings. Lists and headings mean nothing in a clause: a line that begins with "35." stays a
    line.
    """
    tokens = _CLAUSE.parseInline(text) if inline else _CLAUSE.parse(text)
    for token in tokens:
        if token.children:
            token.children = list(_with_degrees(token.children, readings))
    return _rendered(_CLAUSE, tokens)


def clause_parts(
    text: str, *, readings: Mapping[str, str | None] = DEFAULT_READINGS
) -> list[tuple[str, bool]]:
    """The words of a clause one after the other, each with whether they are words of degree; without emphasis."""
    parts: list[tuple[str, bool]] = []
    degree = False
    for token in _with_degrees(_CLAUSE.parseInline(text)[0].children or [], readings):
        degree = {"degree_open": True, "degree_close": False}.get(token.type, degree)
        words = " " if token.type in {"softbreak", "hardbreak"} else token.content
        if words:
            parts.append((words, degree))
    return parts


def render_note(text: str) -> str:
    """A club's note in HTML: paragraphs, emphasis, lists, quotations, links; headings begin at `<h3>`."""
    tokens = _NOTE.parse(text)
    for token in tokens:
        if token.type in {"heading_open", "heading_close"}:
            token.tag = f"h{min(int(token.tag[1:]) + 2, _DEEPEST_HEADING)}"
    return _rendered(_NOTE, tokens)


def _rendered(parser: MarkdownIt, tokens: Sequence[Token]) -> str:
    for token in tokens:
        if token.children:
            token.children = list(_with_addressed_links(token.children))
    return str(parser.renderer.render(tokens, parser.options, {}))


def _with_addressed_links(tokens: Sequence[Token]) -> Iterator[Token]:
    """Without links that lead nowhere, `[words]()`: their words stay. Links never stand inside one another."""
    nowhere = False
    for token in tokens:
        if token.type == "link_open" and not token.attrs.get("href"):
            nowhere = True
        elif token.type == "link_close" and nowhere:
            nowhere = False
        else:
            yield token


def _with_degrees(tokens: Sequence[Token], readings: Mapping[str, str | None]) -> Iterator[Token]:
    in_link = 0
    for token in tokens:
        in_link += {"link_open": 1, "link_close": -1}.get(token.type, 0)
        if token.type == "text" and not in_link:
            yield from _marked(token.content, readings)
        else:
            yield token


def _marked(text: str, readings: Mapping[str, str | None]) -> Iterator[Token]:
    done = 0
    for word in find_degree_words(text, readings):
        yield Token("text", "", 0, content=text[done : word.start])
        yield Token("degree_open", "span", 1, attrs={"class": "degree"})
        yield Token("text", "", 0, content=text[word.start : word.end])
        yield Token("degree_close", "span", -1)
        done = word.end
    yield Token("text", "", 0, content=text[done:])


def _description_of_picture(
    renderer: RendererHTML, tokens: Sequence[Token], index: int, options: OptionsDict, env: EnvType
) -> str:
    return renderer.renderInlineAsText(tokens[index].children or [], options, env).translate(_ESCAPES)


def _parser(preset: str, change: Callable[[MarkdownIt], object]) -> MarkdownIt:
    parser = _SafeMarkdown(preset, {"html": False, "maxNesting": 20})
    change(parser)
    parser.add_render_rule("image", _description_of_picture)
    return parser


_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})
_INLINE_OF_CLAUSE = ["newline", "escape", "emphasis", "link", "image", "autolink", "entity"]
_CLAUSE = _parser("zero", lambda parser: parser.enable(_INLINE_OF_CLAUSE))
_NOTE = _parser("commonmark", lambda parser: parser.disable(["code", "fence", "html_block", "html_inline"]))
