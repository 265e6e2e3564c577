"""The spec sheet: model, catalogue, revisions, matching, reading of published text. Knows no rule."""
