"""What people look at, drawn from a file: pictures, report, plates, preview, dummy, single pages. It says what it
changed and never judges.
"""
