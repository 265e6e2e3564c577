"""What `measurements` of a check holds, for the OpenAPI description."""

from __future__ import annotations

from marshmallow import fields
from marshmallow.validate import OneOf

from service.api.http.shapes import Answer, FailureFacts, box, or_null, says


class EncryptionFacts(Answer):
    encrypted = fields.Boolean(**says("Whether the file is encrypted."))
    printing_allowed = fields.Boolean(**says("False where its permissions forbid printing at full quality."))


class MetadataFacts(Answer):
    damage = fields.String(**or_null("Why the XMP packet cannot be read."))
    filtered = fields.Boolean(**says("Whether it is packed."))
    pdfx_version = fields.String(**or_null("pdfxid:GTS_PDFXVersion."))
    title = fields.String(**or_null("dc:title."))
    create_date = fields.String(**or_null("xmp:CreateDate."))
    modify_date = fields.String(**or_null("xmp:ModifyDate."))
    metadata_date = fields.String(**or_null("xmp:MetadataDate."))
    document_id = fields.String(**or_null("xmpMM:DocumentID."))
    version_id = fields.String(**or_null("xmpMM:VersionID."))
    rendition_class = fields.String(**or_null("xmpMM:RenditionClass."))
    trapped = fields.String(**or_null("pdf:Trapped."))


class IdentificationFacts(Answer):
    info_version = fields.String(**or_null("GTS_PDFXVersion of the Info dictionary."))
    info_conformance = fields.String(**or_null("GTS_PDFXConformance of the Info dictionary."))
    info_title = fields.String(**or_null("Title of the Info dictionary."))
    info_creation_date = fields.String(**or_null("CreationDate, as written."))
    info_modification_date = fields.String(**or_null("ModDate, as written."))
    info_trapped = fields.String(**or_null("Trapped; in brackets where it is no name."))
    has_file_id = fields.Boolean(**says("Whether the trailer has an ID."))
    metadata = fields.Nested(MetadataFacts, **or_null("Of its XMP packet; null where there is none."))


class OutputIntentFacts(Answer):
    subtype = fields.String(**says("Such as GTS_PDFX."))
    identifier = fields.String(**or_null("OutputConditionIdentifier."))
    condition = fields.String(**or_null("OutputCondition."))
    registry = fields.String(**or_null("RegistryName."))
    info = fields.String(**or_null("Info."))
    profile = fields.String(**or_null("Key of its profile in 'profiles'."))
    profile_outside = fields.Boolean(**says("Whether it names a profile outside the file."))


class ProfileFacts(Answer):
    key = fields.String(**says("Its object's number in the file."))
    damage = fields.String(**or_null("Why it cannot be used."))
    device_class = fields.String(**says("Such as prtr; empty where unknown."))
    space = fields.String(**says("Such as CMYK; empty where unknown."))
    channels = fields.Integer(**says("Of that space; 0 where unknown."))
    declared_channels = fields.Integer(**says("As the PDF says; 0 where it does not."))
    version = fields.String(**says("Version of the ICC format."))
    description = fields.String(**or_null("As it names itself."))
    digest = fields.String(**says("SHA-256 of the profile, hexadecimal."))


class LayerFacts(Answer):
    name = fields.String(**or_null("Name of the configuration."))
    automatic = fields.Boolean(**says("Whether usage switches layers by itself (AS)."))
    layers_not_in_order = fields.Integer(**says("Layers that its list leaves out."))


class FeatureFacts(Answer):
    kind = fields.String(**says("Such as LZW, OPI or halftone."))
    detail = fields.String(**says("More about it; may be empty."))
    pages = fields.List(fields.Integer(), **says("Pages that lead to it; empty for the document as a whole."))


class ActiveFacts(Answer):
    kind = fields.String(**says("Such as JavaScript, Launch or EmbeddedFile."))
    on = fields.String(**says("document, page, annotation, form field or bookmark."))
    page = fields.Integer(**or_null("Counted from 1."))
    box_mm = fields.List(fields.Float(), **or_null("Where on the page: [x0, y0, x1, y1] as everywhere."))
    detail = fields.String(**says("Name of a file inside; may be empty."))


class LinearizationFacts(Answer):
    faults = fields.List(fields.String(), **says("What no longer matches; empty where all does."))


class DocumentFacts(Answer):
    size_bytes = fields.Integer(**says("Size of the file."))
    failure = fields.Nested(FailureFacts, **or_null("Why nothing more could be measured; null where it could."))
    page_count = fields.Integer(**or_null("Number of pages."))
    version = fields.String(**or_null("PDF version."))
    encryption = fields.Nested(EncryptionFacts, **or_null("What the encryption dictionary says."))
    damage = fields.List(fields.String(), **says("What had to be repaired to open the file."))
    title = fields.String(**or_null("As the file says."))
    creator = fields.String(**or_null("The layout program, as it names itself."))
    producer = fields.String(**or_null("What wrote the PDF, as it names itself."))
    identification = fields.Nested(IdentificationFacts, **or_null("What the file claims to be, and what names and dates it."))
    output_intents = fields.List(fields.Nested(OutputIntentFacts), **or_null("The printing conditions that it names."))
    profiles = fields.List(fields.Nested(ProfileFacts), **or_null("Colour profiles of output intents and of objects in use."))
    layers = fields.List(fields.Nested(LayerFacts), **or_null("Configurations of its layers; null also where it has none."))
    features = fields.List(fields.Nested(FeatureFacts), **or_null("What its objects make use of beside what they paint."))
    active_content = fields.List(fields.Nested(ActiveFacts), **or_null("What acts, plays or is carried along."))
    linearization = fields.Nested(LinearizationFacts, **or_null("Its arrangement for fast viewing; null also where it has none."))


class BoxesFacts(Answer):
    media = box("MediaBox.")
    crop = box("CropBox.")
    bleed = box("BleedBox.")
    trim = box("The trim as it was worked out.")
    art = box("ArtBox.")


class SidesFacts(Answer):
    top = fields.Float(**or_null("mm."))
    right = fields.Float(**or_null("mm."))
    bottom = fields.Float(**or_null("mm."))
    left = fields.Float(**or_null("mm."))


_SOURCES = ["trim_box", "art_box", "crop_marks", "crop_box", "media_minus_bleed", "media_box"]


class AnnotationFacts(Answer):
    subtype = fields.String(**says("Kind as the file has it, such as Text, Link or Widget."))
    label = fields.String(**says("The same in plain words."))
    box_mm = box("Its rectangle.")
    prints = fields.Boolean(**says("Whether its flags and its layer let it print."))
    shows = fields.Boolean(**says("Whether they let it show on a screen."))
    has_appearance = fields.Boolean(**says("Whether the file says how it looks."))


class InkOnPageFacts(Answer):
    name = fields.String(**says("Name of the ink."))
    coverage_percent = fields.Float(**says("Mean over the trimmed page."))
    empty = fields.Boolean(**says("Whether nothing of it lands inside the bleed."))


class PagePlatesFacts(Answer):
    ppi = fields.Float(**says("Resolution of the ink plates that were measured."))
    converted = fields.Boolean(**says("Whether RGB or Lab colours were converted to inks: the press may do it otherwise."))
    blank = fields.Boolean(**says("Whether there is no ink inside the trim."))
    inks = fields.List(fields.Nested(InkOnPageFacts), **says("Every ink, process inks first."))


class PageFacts(Answer):
    number = fields.Integer(**says("Counted from 1."))
    rotation = fields.Integer(validate=OneOf([0, 90, 180, 270]), **says("Degrees clockwise; all other values are after it."))
    user_unit = fields.Float(**says("Size of a unit in 1/72 inch."))
    boxes_mm = fields.Nested(BoxesFacts, **says("The boxes in force."))
    declared_boxes = fields.List(fields.String(), **says("Names of the boxes that the page has of its own or inherits."))
    trim_width_mm = fields.Float(**says("Width of the trimmed page as displayed."))
    trim_height_mm = fields.Float(**says("Height of the trimmed page as displayed."))
    trim_source = fields.String(validate=OneOf(_SOURCES), **says("What says where the trim is."))
    bleed_declared = fields.Boolean(**says("Whether the page has a BleedBox of its own."))
    bleed_mm = fields.Nested(SidesFacts, **says("How deep the bleed is on each side."))
    bleed_reach_mm = fields.Nested(SidesFacts, **or_null("How far the ink reaches into it; null for a side that no ink touches."))
    ink_max_percent = fields.Float(**or_null("The most ink in total on this page."))
    annotations = fields.List(fields.Nested(AnnotationFacts), **or_null("Comments, form fields, links and the like."))
    crop_marks_mm = fields.List(fields.Float(), **or_null("The rectangle that crop marks point at; null where they show none."))
    plates = fields.Nested(PagePlatesFacts, **or_null("What its ink plates say."))


class ImageFacts(Answer):
    page = fields.Integer(**says("Page that it is placed on."))
    box_mm = box("Around the whole picture.")
    visible_box_mm = box("The part that shows.")
    width_px = fields.Integer(**says("Pixels across."))
    height_px = fields.Integer(**says("Pixels down."))
    ppi = fields.Float(**says("Pixels an inch as placed, the lower of the two directions."))
    ppi_x = fields.Float(**says("Along its own x direction."))
    ppi_y = fields.Float(**says("Along its own y direction."))
    kind = fields.String(validate=OneOf(["contone", "bilevel", "mask"]), **says("Continuous tone, 1 bit, or an image mask."))
    space = fields.String(**says("Colour space as the file has it."))
    bits = fields.Integer(**says("Bits a component."))
    filter = fields.String(**or_null("How its data is compressed; null where it is not."))
    jpeg_quality = fields.Integer(**or_null("Estimated from 1 to 100; null where it is no JPEG."))
    inline = fields.Boolean(**says("Whether it stands in the page's content itself."))


class FontFacts(Answer):
    name = fields.String(**says("BaseFont without a subset tag."))
    type = fields.String(**says("Such as TrueType or Type1."))
    embedded = fields.Boolean(**says("Whether the font is in the file."))
    subset = fields.Boolean(**says("Whether only the glyphs in use are."))
    pages = fields.List(fields.Integer(), **says("Pages that use it."))


class InkFacts(Answer):
    name = fields.String(**says("Name of the ink."))
    kind = fields.String(validate=OneOf(["process", "spot", "registration"]), **says("What kind of ink."))
    pages = fields.List(fields.Integer(), **says("Pages that use it."))
    coverage_percent = fields.Float(**or_null("Mean over the trimmed pages that use it."))


class UnmeasuredPlace(Answer):
    path = fields.String(**says("JSON pointer into 'measurements'."))
    why = fields.String(**says("Why it was not measured, or not in full."))


class MeasurementsFacts(Answer):
    document = fields.Nested(DocumentFacts, **says("The file as a whole."))
    pages = fields.List(fields.Nested(PageFacts), **or_null("Every page."))
    images = fields.List(fields.Nested(ImageFacts), **or_null("Every picture as placed."))
    fonts = fields.List(fields.Nested(FontFacts), **or_null("Every font in use."))
    inks = fields.List(fields.Nested(InkFacts), **or_null("Every ink that is painted."))
    unmeasured = fields.List(fields.Nested(UnmeasuredPlace), **says("What is null, or not complete, and why."))
