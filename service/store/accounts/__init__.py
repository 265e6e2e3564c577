"""What is kept of accounts: keys by their hashes, what each has used, upload tokens, and who did what."""
