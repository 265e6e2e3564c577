"""Who calls: owners, their keys and what these allow, how much each may use. Plain records; no HTTP and no database in it."""
