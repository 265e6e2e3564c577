"""What is kept between requests: checks in a database, uploaded files in a folder, both only until they expire. The
only room with SQLAlchemy.
"""
