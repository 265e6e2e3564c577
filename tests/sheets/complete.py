"""A sheet that uses every key, for tests of what all keys have in common."""

COMPLETE = """
id: cover-and-more
revision: 3
title: Everything at once
product: everything
regions: [GB, "NO"]
purpose: print
summary: Every key of the format, once.
names: [Everything, Alles, Tout]
aliases: [everything]
references: [{name: "common practice, no source", about: trim}]
note: A sheet for tests.
file:
  maximum_size: 100 MB
  pdf_versions: {minimum: "1.3", maximum: "2.0"}
  standards: [PDF/X-1a, PDF/X-3, PDF/X-4]
  standards_level: should
  encryption: forbidden
  output_conditions: [FOGRA51]
  linearized: allowed
  layers: forbidden
  separations: forbidden
  screening: forbidden
  level: must
  note: n
pages: {minimum: 8, maximum: 64, multiple_of: 4, arrangement: single-pages, rotation: forbidden, boxes: [trim, bleed]}
trim:
  {width: 5 1/2 in, height: 8.5 in, tolerance: 1/64 in, orientation: portrait,
   alternatives: [{width: 6 in, height: 9 in, folds: [98 mm, 119 mm]}],
   parts: [{name: cover, first: 2, last: 2, width: 5 3/4 in, height: 9 in}],
   scales: [1, 10], corner_radius: 3 mm}
bleed: {minimum: 9 pt, preferred: 10 pt, maximum: 11 pt, binding: 0 mm, outer: 9 pt, head: 9 pt, foot: 9 pt}
margin:
  {minimum: 3 mm, preferred: 5 mm, binding: 10 mm, outer: 4 mm, head: 4 mm, foot: 4 mm, level: should,
   frames: allowed, frame_minimum: 5 mm, frame_width: 1 mm,
   by_pages: [{from: 48, minimum: 4 mm, binding: 12 mm, outer: 5 mm, head: 5 mm, foot: 5 mm}]}
marks: {crop_marks: allowed, offset_minimum: 3 mm}
color:
  {allowed: [cmyk, gray], spots: {maximum: 1, allowed: [Copper]}, ink_limit: 300 %, ink_area: 20 mm², ink_preferred: 280 %,
   rgb_level: must, icc_profiles: forbidden, ink_minimum: 8 %, tint: {minimum: 5 %, maximum: 95 %},
   rich_black: {ink_limit: 240 %, cyan: 60 %, magenta: 40 %, yellow: 40 %, black: 100 %}}
images:
  contone_ppi: {minimum: 200, preferred: 300, maximum: 450.5}
  bilevel_ppi: {minimum: 600, preferred: 1200}
  jpeg: forbidden
text: {minimum_size: 5 pt, reversed_minimum_size: 2 mm, rich_black_minimum_size: 14 pt, black_alone: true}
lines: {minimum_width: 0.25 pt, reversed_minimum_width: 0.5 pt}
fonts: {embedded: required, outlines: required, formats: [type-1, truetype]}
transparency: {live: forbidden}
keep_clear:
  - {name: writing area, box: [20 mm, 45 mm, 120 mm, 200 mm], pages: [1], level: should, corner: top-right, free_of: text}
folds: [{at: 97 mm, axis: vertical}, {at: 118 mm, axis: vertical}]
folding: {type: roll, single_pages: forbidden, level: should, note: n}
spine:
  {page_width: 148 mm, page_height: 210 mm, caliper: 0.11 mm, cover_caliper: 0.3 mm, inner_pages: 96, text_free: 2 mm,
   tolerance: 0}
finishes: [{ink: Varnish, kind: varnish, also: [Gloss], must_overprint: true, artwork: vector,
  required: true, overprint_level: should}]
papers: [{name: uncoated, ink_limit: 280 %, maximum_pages: 48}]
levels: {image.compression: off, copy.placeholder: must}
"""
