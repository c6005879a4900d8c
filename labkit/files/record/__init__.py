"""What was printed: a record that the room keeps, and what it sums to."""
