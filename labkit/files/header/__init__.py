"""What a file says of itself: its kind, its header, the facts of a picture."""
