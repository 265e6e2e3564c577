"""Statements and what stands in them: amounts, sizes, numbers, the small words around them."""
