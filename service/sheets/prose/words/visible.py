"""What a reader sees of an HTML page, as lines: headings apart, list items with a dash, rows of a table as '| a | b |'.

Scripts, styles, templates and whatever is not shown are left out. Nothing is fetched and nothing is run. Broken markup is read
as far as it goes.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser

_UNSEEN = frozenset(
    ("script", "style", "template", "noscript", "head", "svg", "select", "button", "textarea", "iframe", "object")
)
_BLOCKS = frozenset(
    (
        *("address", "article", "aside", "blockquote", "div", "dl", "fieldset", "figcaption", "figure", "footer"),
        *("form", "header", "hr", "main", "nav", "ol", "p", "pre", "section", "table", "tbody", "thead", "tfoot", "ul"),
        *("caption", "details", "summary"),
    )
)
_HEADINGS = frozenset(("h1", "h2", "h3", "h4", "h5", "h6", "caption", "summary"))
_CELLS = frozenset(("td", "th"))
_VOID = frozenset(("br", "hr", "img", "input", "link", "meta", "wbr", "col", "area", "base", "embed", "source", "track"))
_TAG_OR_ANGLE = re.compile(r"</?[a-zA-Z][^<>]{0,4000}>|<")


def visible_text(html: str) -> str:
    """Every length of input takes time in proportion to it."""
    page = _Page()
    page.feed(_only_whole_tags(_without_comments(html)))
    page.close()
    return page.text()


def _without_comments(html: str) -> str:
    """A comment that never ends takes the rest with it, as in a browser."""
    kept: list[str] = []
    start = 0
    while (opened := html.find("<!--", start)) >= 0:
        kept.append(html[start:opened])
        closed = html.find("-->", opened + 4)
        if closed < 0:
            return "".join(kept)
        start = closed + 3
    return "".join([*kept, html[start:]])


def _only_whole_tags(html: str) -> str:
    """A '<' that opens no whole tag becomes text: the library's parser would search the rest of the page once for each."""
    return _TAG_OR_ANGLE.sub(lambda found: found.group() if len(found.group()) > 1 else "&lt;", html)


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self._parts: list[str] = []
        self._unseen = 0
        """How many unseen elements are open."""
        self._in_cell = False
        self._pre = 0

    def text(self) -> str:
        lines = "".join(self._parts).split("\n")
        return "\n".join(" ".join(line.split(" ")).rstrip() for line in lines).strip("\n")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _UNSEEN:
            self._unseen += 1
        elif tag in _HEADINGS:
            self._line(2)
            self._put("#" * int(tag[1]) + " " if tag[1].isdigit() else "###### ")
        elif tag == "li":
            self._line(0 if self._in_cell else 1)
            self._put("; " if self._in_cell else "- ")
        elif tag == "tr":
            self._in_cell = False
            self._line(1)
            self._put("| ")
        elif tag in _CELLS:
            self._in_cell = True
        elif tag == "dt":
            self._line(1)
        elif tag == "dd":
            self._put(" | ")
        elif tag == "br":
            self._line(1)
        elif tag in _BLOCKS:
            self._line(2)
        elif tag == "sup":
            self._put(" ")  # '3<sup>1</sup>/<sub>2</sub>' is three and a half, not thirty-one halves
        elif tag == "img":
            self._put(next((f" {text} " for name, text in attrs if name == "alt" and text), ""))
        if tag == "pre":
            self._pre += 1

    def handle_endtag(self, tag: str) -> None:
        if tag in _UNSEEN:
            self._unseen = max(0, self._unseen - 1)
        elif tag in _CELLS:
            self._in_cell = False
            self._put(" | ")
        elif tag in ("tr", "dd", "li"):
            self._line(1)
        elif tag in _HEADINGS or tag in _BLOCKS:
            self._line(2)
        if tag == "pre":
            self._pre = max(0, self._pre - 1)

    def handle_data(self, data: str) -> None:
        if self._pre:
            self._put(data)
            return
        words = " ".join(data.split(None))
        if words:
            self._put((" " if data[0].isspace() else "") + words + (" " if data[-1].isspace() else ""))
        elif data:
            self._put(" ")

    def _put(self, words: str) -> None:
        if self._unseen or not words:
            return
        if words[0] == " " and (not self._parts or self._parts[-1].endswith((" ", "\n"))):
            words = words.lstrip(" ") if words.strip() else ""
        if words:
            self._parts.append(words)

    def _line(self, breaks: int) -> None:
        """At least so many line breaks before what comes; within a cell a block is only a pause."""
        if self._unseen:
            return
        if self._in_cell:
            if breaks and self._parts and not self._parts[-1].endswith((" ", "| ")):
                self._parts.append("; ")
            return
        if not self._parts:
            return
        last = self._parts[-1]
        ends = len(last) - len(last.rstrip("\n"))
        if ends < breaks:
            self._parts.append("\n" * (breaks - ends))
