"""What can be bought: one CSV a kind of good."""
