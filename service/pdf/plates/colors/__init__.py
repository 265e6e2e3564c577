"""Colours of any space as tints of named inks, and which inks an object leaves as they are."""
