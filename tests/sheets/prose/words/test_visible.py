"""What a reader sees of an HTML page."""

from __future__ import annotations

from service.sheets.prose.words.visible import visible_text


def test_scripts_styles_and_comments_are_not_seen() -> None:
    html = "<style>p{}</style><p>Bleed</p><script>var a = '<p>9 mm</p>'</script><!-- 5 mm --><template>7 mm</template>"
    assert visible_text(html) == "Bleed"


def test_a_table_becomes_rows_and_a_list_lines() -> None:
    html = "<table><tr><th></th><th>Card</th></tr><tr><td>Bleed</td><td>3&nbsp;mm</td></tr></table><ul><li>CMYK<li>300 dpi</ul>"
    lines = [line for line in visible_text(html).splitlines() if line]
    assert lines == ["| | Card |", "| Bleed | 3 mm |", "- CMYK", "- 300 dpi"]


def test_a_definition_list_pairs_term_and_words() -> None:
    assert visible_text("<dl><dt>Bleed<dd>3 mm<dt>Safety<dd>5 mm</dl>").splitlines() == ["Bleed | 3 mm", "Safety | 5 mm"]


def test_a_raised_fraction_does_not_grow_its_number() -> None:
    assert visible_text("3<sup>1</sup>/<sub>2</sub> in") == "3 1/2 in"


def test_broken_markup_is_text() -> None:
    assert visible_text("ppi < 300 & bleed <b>3 mm") == "ppi < 300 & bleed 3 mm"


def test_a_comment_without_end_takes_the_rest() -> None:
    assert visible_text("<p>3 mm</p><!-- <p>5 mm</p>") == "3 mm"
