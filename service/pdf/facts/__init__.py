"""What was found, as plain frozen records in mm, ppi, points and percent. No PDF library is needed for any of it."""
