"""Reading what a printer publishes about its files as a draft of a spec sheet: a grammar, the same answer each time."""
