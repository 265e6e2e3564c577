"""What one page paints as printed: the walk's marks gathered into the page's `Content`.

* Contents first, then the annotations' appearances (ISO 32000-2:2020, 7.8.2 and 12.5.5).
* A page that cannot be followed to its end is `Unmeasured` with the reason: it is never half-listed.
"""

from __future__ import annotations

import logging

import pikepdf

from service.language.sentences import sentence
from service.pdf.content.resources import Resources, Shared
from service.pdf.content.work_limits import TooMuchWork
from service.pdf.facts.geometry import Matrix
from service.pdf.facts.page import PageBoxes
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import BeyondLimits, Unmeasured, beyond_limits
from service.pdf.gather.batches import InBatches
from service.pdf.gather.marks import Gathered
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import MOST_UNPACKED_BYTES, UnpacksTooLarge, page_streams
from service.pdf.walk.objects import emit_group_space, walk_annotations
from service.pdf.walk.table import HANDLERS
from service.pdf.walk.walker import Walk

log = logging.getLogger(__name__)

PAGE_NESTED_TOO_DEEP = BeyondLimits("Some parts of the page are nested more deeply than a check can follow.")


def page_content(page: pikepdf.Dictionary, ruler: Matrix, boxes: PageBoxes, shared: Shared) -> Content | Unmeasured:
    """Everything that the page paints; `ruler` leads from its default user space (pt) to ruler mm."""
    gathered = Gathered(boxes)
    batches = InBatches(gathered)
    walk = Walk(HANDLERS, ruler, boxes.media, shared, [batches.add])
    walk.at_once = gathered.interior, batches.add_small
    resources = Resources(inherited(page, "/Resources"), shared)
    try:
        for data in page_streams(page):
            walk.run(data, resources)
        if walk.transparency_seen:
            emit_group_space(walk, page.get("/Group"), resources, boxes.media)
        walk.resources = resources
        walk_annotations(walk, page)
    except TooMuchWork as limit:
        return beyond_limits("The page was not followed to its end: {limit}.", limit=limit.sentence)
    except UnpacksTooLarge:
        unpacked = sentence("its drawing instructions unpack to more than {count} MB", count=MOST_UNPACKED_BYTES // 1_000_000)
        return beyond_limits("The page was not followed to its end: {limit}.", limit=unpacked)
    except RecursionError:
        return PAGE_NESTED_TOO_DEEP
    except READING_ERRORS:
        log.info("a page's content cannot be followed", exc_info=True)
        return Unmeasured("The page is damaged and its content cannot be followed to the end.")
    finally:
        shared.path_runs.clear()
    return batches.content(walk.stand_ins)
