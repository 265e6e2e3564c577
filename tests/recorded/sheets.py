"""Sheets of our own that ask much, so that many rules have something to say; and sheets that are wrong."""

from __future__ import annotations

STRICT = """
title: Everything asked
file:
  maximum_size: 300 kB
  pdf_versions: {minimum: "1.4", maximum: "1.7"}
  standards: [PDF/X-4, "PDF/X-1a:2003"]
  standards_level: should
  encryption: forbidden
  output_conditions: [FOGRA51]
  linearized: forbidden
  note: Send what the press can take.
pages: {minimum: 2, maximum: 12, multiple_of: 2, arrangement: single-pages}
trim: {width: 85 mm, height: 55 mm, tolerance: 0.5 mm, orientation: landscape}
bleed: {minimum: 3 mm, maximum: 3.5 mm, note: On every side.}
margin: {minimum: 4 mm}
marks: {crop_marks: required, offset_minimum: 3 mm}
color: {allowed: [cmyk, gray], spots: {maximum: 1, allowed: [Copper]}, ink_limit: 280 %, ink_area: 5 mm²}
images: {contone_ppi: {minimum: 250, preferred: 300, maximum: 450}, bilevel_ppi: {minimum: 600, preferred: 1200}}
text: {minimum_size: 6 pt, reversed_minimum_size: 8 pt, rich_black_minimum_size: 14 pt}
lines: {minimum_width: 0.25 pt, reversed_minimum_width: 0.5 pt}
fonts: {embedded: required}
transparency: {live: forbidden}
keep_clear: [{name: address, box: [5 mm, 5 mm, 40 mm, 20 mm], pages: [1]}]
finishes: [{ink: Varnish, must_overprint: true, artwork: vector, required: true}]
"""

FOLDED = """
pages: {allowed: [2]}
trim: {width: 297 mm, height: 210 mm}
margin: {minimum: 3 mm}
folds: [{at: 97 mm, axis: vertical}, {at: 197 mm, axis: vertical}]
folding: {type: roll, level: should, note: The panel that goes inside is narrower.}
transparency: {live: required}
"""

COVER = """
trim: {width: 302 mm, height: 210 mm}
bleed: {minimum: 3 mm}
margin: {minimum: 3 mm}
spine: {page_width: 148 mm, caliper: 0.11 mm, cover_caliper: 0.3 mm, inner_pages: 96, tolerance: 0.5 mm}
"""

LENIENT = """
extends: business-card-85x55
bleed: null
levels: {trim.size: should, font.embedded: off, color.space: should, copy.placeholder: must}
"""

WRONG = {
    "misspelt": "bleed: {minimun: 3 mm}",
    "wrong-unit": "bleed: {minimum: 3 furlongs}\ntext: {minimum_size: 5 ppi}\ncolor: {ink_limit: 300 mm}",
    "negative": "bleed: {minimum: -3 mm}",
    "no-number": "bleed: {minimum: three}\ntrim: {width: 85 mm, hight: 55}",
    "contradiction-bleed": "bleed: {minimum: 5 mm, maximum: 3 mm}",
    "contradiction-preferred": "images: {contone_ppi: {minimum: 300, preferred: 200}}",
    "contradiction-pages": "pages: {allowed: [4, 6], minimum: 2, multiple_of: 4}",
    "contradiction-orientation": "trim: {width: 85 mm, height: 55 mm, orientation: portrait}",
    "contradiction-rgb": "color: {allowed: [rgb], rgb_level: should}",
    "contradiction-margin": "trim: {width: 20 mm, height: 20 mm}\nmargin: {minimum: 11 mm}",
    "contradiction-folding": "trim: {width: 90 mm, height: 50 mm}\nfolds: [{at: 50 mm, axis: vertical}]\nfolding: {type: gate}",
    "unknown-rule": "bleed: {minimum: 3 mm}\nlevels: {trim.sise: off}",
    "unknown-base": "extends: business-card-85x56\nbleed: {minimum: 3 mm}",
    "takes-out-what-is-not-there": "extends: business-card-85x55\nspine: null",
    "asks-nothing": "{}",
    "no-yaml": "bleed: [",
    "a-list": "- 1",
    "an-alias": "a: &a [x, x]\nb: [*a, *a]",
    "twice": "bleed: {minimum: 3 mm}\nbleed: {minimum: 4 mm}",
    "words": "color: {allowed: [cmjk]}\nfonts: {embedded: yes}\nmarks: {crop_marks: maybe}\nfile: {standards: [PDF/X-9]}",
    "boxes": "keep_clear: [{name: a, box: [1, 2, 3]}, {box: [9 mm, 9 mm, 1 mm, 1 mm]}]\nfinishes: [{must_overprint: 1}]",
    "many": "\n".join(f"key{number}: 1" for number in range(12)),
}
