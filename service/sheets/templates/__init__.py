"""Reading a printer's empty document as a draft of a spec sheet: from its boxes and from guides that are named as such."""
