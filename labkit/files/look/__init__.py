"""What the pixels of a hand-in show: the picture's place, other ink, sharpness, damage, a fingerprint."""
