"""The demands of ISO 15930 (PDF/X) that a program can check, each a small function over what was measured.

`demand` says what a demand is.
Parts: 1:2001 (PDF/X-1a:2001), 4:2003 (PDF/X-1a:2003), 3:2002 (PDF/X-3:2002), 6:2003 (PDF/X-3:2003), 7:2010 (PDF/X-4, PDF/X-4p).
Where a demand's text could not be looked up its source says 'from memory'; no clause is quoted that we are not sure of.
"""
