"""Who calls: keys, what a key allows, quotas, and who shares places with whom."""
