"""Mistakes that nobody could notice, because the module does the same with them; each with the reason."""

from __future__ import annotations

EQUIVALENT: dict[str, dict[str, str]] = {
    "service/product/with_bleed.py": {
        "bleed_in_size: abs(beside - above) <= EVEN_MM → abs(beside - above) < EVEN_MM": "0.2 mm is no binary number",
    },
    "service/rules/edges/margins/margin.py": {
        f"stands_in: {before} → {before.replace('<', '<=')}": "the area is smaller by the slack: nothing lies on its edge"
        for before in ("box.x0 < inner.x1", "inner.x0 < box.x1", "box.y0 < inner.y1", "inner.y0 < box.y1")
    } | {
        "margin_text: for run in content.text_runs if not clear.contains(ink_of(run), slack=0) → for run in content.text_runs":
            "what is passed over is too near to no edge",
        "margin_text: 0 → -1": "more text is looked at, and is too near to no edge",
    },
    "service/rules/edges/short_artwork.py": {
        "loose_ends: if not any((SLACK_MM < depth_inside(one.box_mm, trim, side) < least for one in pieces)) → if False":
            "where none ends so near, none is told below",
    },
    "service/rules/edges/shown_trim.py": {
        "bleed_in_the_trim: 0.0 → -0.1": "less than nothing is cut to nothing below",
        "_half_a_line_mm: () if isinstance(page.content, Unmeasured) else page.content.lines → page.content.lines":
            "its strokes were found in the content",
    },
    "service/rules/edges/trim.py": {
        "_scale: abs(across / down - 1) <= SAME_SHAPE → abs(across / down - 1) < SAME_SHAPE": "0.003 is no binary number",
    },
    "service/rules/edges/marks.py": {
        "_is_level: line.box_mm.width > line.box_mm.height → line.box_mm.width >= line.box_mm.height": "a mark has a direction",
        "_offset_asked: 0.0 → -0.1": "no bleed asked for is less than any distance",
    },
    "service/rules/image/image.py": {
        f"_pixels: 0.0001 → {other}": "far more than arithmetic errs by, far less than a pixel"
        for other in (0.0001 * 1.3, 0.0001 * 0.7)
    },
    "service/rules/image/image_distorted.py": {
        "_out_of_shape: worst.ppi_x < worst.ppi_y → worst.ppi_x <= worst.ppi_y": "what is stretched has two resolutions",
        "_stretch: 1.0 → 0.7": "neither is stretched",
    },
    "service/rules/image/image_excess.py": {
        "image_excess: found[sort] and asked is not None → found[sort]": "what nothing is asked of is not among the found",
    },
    "service/rules/make_up/finish.py": {
        "_tints_in_pictures: plate.tint_least_percent is not None and (boxes := _of_pictures(page, plate.tinted_boxes_mm)) → "
        "(boxes := _of_pictures(page, plate.tinted_boxes_mm))": "a plate without tints has no regions of them",
        "_of_pictures: () if isinstance(page.content, Unmeasured) else page.content.images → page.content.images":
            "a page that uses the ink has content",
    },
    "service/rules/pages/pages.py": {
        "_nearest: one < count → one <= count": "a count of the list is not told",
        "_nearest: one > count → one >= count": "a count of the list is not told",
        "pages_multiple: step and count % step → count % step": "asked only where there is a step",
    },
    "service/rules/pages/pages_uniform.py": {
        "pages_uniform: sheet.trim and size_is_judged(sheet) and (not accepts(sheet.trim, width, height)) → "
        "size_is_judged(sheet) and (not accepts(sheet.trim, width, height))": "without a trimmed size it is not judged",
    },
    "service/rules/type/line.py": {
        "_broken_limit: min → max": "where no limit is broken by a line without width, only one is asked for",
    },
    "service/rules/file/file.py": {
        "file_size: limit is not None and size > limit → size > limit": "asked only where there is a limit",
    },
    "service/rules/file/file_standard.py": {
        "_in_english: if spoken() == 'en' → if False": "what was found in English is found in English again",
    },
    "service/rules/file/print_standard/identity.py": {
        "xmp_unpacked: facts.metadata and facts.metadata.filtered → facts.metadata.filtered": "without XMP there is no claim",
        "trapped: facts.metadata and edition in X_4 → edition in X_4": "without XMP there is no claim",
        "pdf_version: newest < '1.5' → newest <= '1.5'": "no edition is built on PDF 1.5",
    },
    "service/rules/product_asked.py": {
        "size_is_judged: sheet.trim is not None and sheet.levels.get('trim.size') != 'off' → "
        "sheet.levels.get('trim.size') != 'off'": "whoever asks compares with the trim, where there is one",
        "make_up_asked: None if pages is None else MakeUpAsked(pages=pages, trim=sheet.trim, level=pages.level, "
        "note=pages.note) → MakeUpAsked(pages=pages, trim=sheet.trim, level=pages.level, note=pages.note)":
            "asked only where the sheet speaks of pages",
    },
    "service/rules/catalogue.py": {
        "_in_order: for rule in DECLARED.values() if rule.module == module → for rule in DECLARED.values()":
            "shows in a process that imports another module first; test_rules_come_in_one_order… starts one",
    },
}
"""Module → key of the mutant → why."""
