"""What was measured or judged before: told again, answered again, measured again."""
