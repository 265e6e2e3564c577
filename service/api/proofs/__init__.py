"""What is made from a checked file on demand: plates, pictures, the report, and three more PDFs."""
