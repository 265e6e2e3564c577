"""Pages written as Markdown, in `service/web/docs/pages`: read once, shown as HTML with the address that was called."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from markdown_it import MarkdownIt
from markdown_it.token import Token

from service.api.description.exchanges import ADDRESS

PAGES = Path(__file__).parent / "pages"


@dataclass(frozen=True)
class Written:
    title: str
    html: str
    """Without its title."""


@cache
def written(file: Path) -> Written:
    """Raises FileNotFoundError. Headings get an id, so that a link can lead to them."""
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = parser.parse(file.read_text(encoding="utf-8"))
    title = ""
    for number, token in enumerate(tokens):
        if token.type == "heading_open":
            said = tokens[number + 1].content.replace("`", "")
            if token.tag == "h1" and not title:
                title = said
            token.attrSet("id", heading_id(said))
        elif token.type == "table_open":
            token.attrSet("tabindex", "0")  # as code does, it scrolls on a phone
    html = parser.renderer.render(_without_title(tokens), parser.options, {})
    return Written(title, html.replace("<pre>", '<pre tabindex="0">'))


def heading_id(said: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", said.lower()).strip("-")


def at_address(html: str, address: str) -> str:
    """As it was called; an address holds nothing that HTML would have to escape."""
    return html.replace(ADDRESS, address)


def _without_title(tokens: list[Token]) -> list[Token]:
    return tokens[3:] if tokens and tokens[0].tag == "h1" else tokens
