"""A sheet of one's own written as a form: questions derived from the format, drafts looked at, sheets kept."""
