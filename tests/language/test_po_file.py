"""What the service reads of a catalogue is what Babel reads of it."""

from __future__ import annotations

from io import BytesIO

import pytest
from babel.messages.pofile import read_po

from service.language.po_file import Key, texts_in
from service.language.spoken import CATALOGUES
from tests.language.collect import TRANSLATED

HEADER = """msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"

"""

SEVERAL_LINES = """#: service/one.py
msgid ""
"The page has {found}\\n"
"and no more."
msgstr "Die Seite hat {found}\\n"
"und nicht mehr."
"""

IN_A_ROW = """msgid "Yes"
msgstr "Ja"
msgid "No"
msgstr "Nein"
msgctxt "side"
msgid "left"
msgstr "links"
"""

COUNTED = """msgid "{count} page"
msgid_plural "{count} pages"
msgstr[0] "{count} Seite"
msgstr[1] "{count} Seiten"
"""

NOT_ALL_COUNTED = """msgid "{count} page"
msgid_plural "{count} pages"
msgstr[0] "{count} Seite"
msgstr[1] ""
"""

ABOUT_SOMETHING = """msgid "left"
msgstr "übrig"

msgctxt "side"
msgid "left"
msgstr "links"
"""

MARKED = r"""msgid "a \"quoted\" word\tand a \\ backslash"
msgstr "ein \"zitiertes\" Wort\tund ein \\ Schrägstrich"
"""

GUESSED = """# as the translator has it
#, fuzzy, python-brace-format
msgid "Bleed"
msgstr "Bluten"

msgid "Trim"
msgstr "Endformat"
"""

WITHOUT_TRANSLATION = """msgid "Bleed"
msgstr ""
"""

OF_OLD = """msgid "Bleed"
msgstr "Beschnitt"

#~ msgid "Gutter"
#~ msgstr "Bund"
"""

SEPARATED_BY_A_LINE_OF_TEXT = """msgid "one\u2028two"
msgstr "eins\u2028zwei"
"""


def read_by_babel(written: str) -> dict[Key, tuple[str, ...]]:
    found: dict[Key, tuple[str, ...]] = {}
    for message in read_po(BytesIO(written.encode()), locale="de"):
        forms = tuple(message.string) if isinstance(message.string, tuple | list) else (message.string,)
        if message.id and not message.fuzzy and all(forms):
            found[message.context, message.id[0] if isinstance(message.id, tuple | list) else message.id] = forms
    return found


def read_by_us(written: str) -> dict[Key, tuple[str, ...]]:
    found = texts_in(written)
    assert "Plural-Forms: nplurals=2;" in found.pop((None, ""))[0]
    return found


@pytest.mark.parametrize("language", TRANSLATED)
def test_our_own_catalogues_are_read_as_babel_reads_them(language: str) -> None:
    written = (CATALOGUES / f"{language}.po").read_text(encoding="utf-8")
    found = read_by_us(written)
    assert len(found) > 1000
    assert found == read_by_babel(written)


@pytest.mark.parametrize(
    ("written", "messages"),
    [
        (SEVERAL_LINES, 1),
        (IN_A_ROW, 3),
        (COUNTED, 1),
        (NOT_ALL_COUNTED, 0),
        (ABOUT_SOMETHING, 2),
        (MARKED, 1),
        (GUESSED, 1),
        (WITHOUT_TRANSLATION, 0),
        (OF_OLD, 1),
        (SEPARATED_BY_A_LINE_OF_TEXT, 1),
    ],
)
def test_what_a_translator_may_write_is_read_as_babel_reads_it(written: str, messages: int) -> None:
    found = read_by_us(HEADER + written)
    assert len(found) == messages
    assert found == read_by_babel(HEADER + written)


def test_a_catalogue_with_the_line_ends_of_windows_reads_the_same() -> None:
    assert read_by_us((HEADER + COUNTED).replace("\n", "\r\n")) == read_by_us(HEADER + COUNTED)


@pytest.mark.parametrize("line", ["Bleed", 'msgid Bleed"', 'msgid "Bleed', "msgid", 'msgstr "'])
def test_a_line_that_belongs_in_no_catalogue_is_told(line: str) -> None:
    with pytest.raises(ValueError, match="of a catalogue"):
        texts_in(f"{HEADER}{line}\n")
