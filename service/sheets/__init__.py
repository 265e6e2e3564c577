"""The spec sheet: model, catalogue, one's own revisions, matching, reading of published text. Never knows the rules."""
