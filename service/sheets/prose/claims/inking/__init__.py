"""What a text claims of inks on paper: black, tints, printing conditions, papers."""
