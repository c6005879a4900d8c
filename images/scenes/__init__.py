"""The scenes of the demo pictures and what they are drawn with."""
