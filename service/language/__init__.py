"""In which language people are spoken to: English in the source, German and French in catalogues."""
