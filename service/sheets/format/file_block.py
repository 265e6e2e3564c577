"""The block on the file as a whole: its size, PDF version, standards, lock and printing condition."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from marshmallow import fields, post_load

from service.language.spoken import say
from service.sheets import model
from service.sheets.format.block import NEEDS, PERMISSIONS, AskingSchema, BlockSchema, in_order
from service.sheets.format.fields import Choice, Many, Words, file_size
from service.sheets.format.refusals import Path

PDF_VERSIONS = ("1.0", "1.1", "1.2", "1.3", "1.4", "1.5", "1.6", "1.7", "2.0")
"""Adobe's PDF 1.0 to 1.6, ISO 32000-1 (1.7) and ISO 32000-2 (2.0)."""
_UNQUOTED_VERSIONS: dict[object, str] = {**{float(version): version for version in PDF_VERSIONS}}
PDF_X = (
    *("PDF/X-1a", "PDF/X-1a:2001", "PDF/X-1a:2003", "PDF/X-3", "PDF/X-3:2002", "PDF/X-3:2003", "PDF/X-4", "PDF/X-4p"),
    *("PDF/X-5g", "PDF/X-5n", "PDF/X-5pg", "PDF/X-6", "PDF/X-6n", "PDF/X-6p"),
)
"""The parts of ISO 15930 that a file can claim; without a year every year is meant."""


class VersionsSchema(BlockSchema):
    makes = dict
    minimum = Choice(PDF_VERSIONS, "Oldest PDF version taken.", also=_UNQUOTED_VERSIONS)
    maximum = Choice(PDF_VERSIONS, "Newest PDF version taken.", also=_UNQUOTED_VERSIONS)

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        yield from in_order(data, "minimum", "maximum", "minimum", say("must not be newer than the maximum."))


class FileSchema(AskingSchema):
    makes = model.FileAsked
    maximum_size_bytes = file_size("Largest file taken.", data_key="maximum_size")
    pdf_versions = fields.Nested(VersionsSchema)
    standards = Many(Choice(PDF_X, "A part of ISO 15930."), "PDF/X standards taken; one of them is enough.")
    standards_level = Choice(("must", "should"), "Level of the standards alone.")
    encryption = Choice(("allowed", "forbidden"), "Whether the file may be encrypted.")
    output_conditions = Many(Words("A printing condition."), "Printing conditions taken (OutputConditionIdentifier).")
    linearized = Choice(NEEDS, "Whether the first page must show before the whole file has arrived.")
    layers = Choice(PERMISSIONS, "Layers (optional content).")
    separations = Choice(PERMISSIONS, "Pages that were separated into inks before.")
    screening = Choice(PERMISSIONS, "Halftones and transfer functions of the file's own.")

    def contradictions(self, data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
        if data.get("standards_level") and not data.get("standards"):
            yield ("standards_level",), say("speaks of standards, and file.standards names none.")

    @post_load
    def make(self, data: dict[str, Any], **more: object) -> Any:
        versions = data.pop("pdf_versions", {})
        return super().make(data | {f"{end}_version": version for end, version in versions.items()}, **more)

    def get_attribute(self, obj: Any, attr: str, default: Any) -> Any:
        if attr == "pdf_versions":
            return {"minimum": obj.minimum_version, "maximum": obj.maximum_version}
        if attr == "standards_level" and not obj.standards:
            return None
        return super().get_attribute(obj, attr, default)
