"""The order of Halyard Lane Bakery from Copperbeck Press, drawn by rule, some of it as it goes wrong in life; the
demo run. Never needed by the service.
"""
