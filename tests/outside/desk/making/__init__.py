"""Print-like files for the desk, in typical layouts, as seven programs write them. The words are Halyard Lane Bakery's."""
