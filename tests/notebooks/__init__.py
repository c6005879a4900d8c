"""The notebooks as they are committed: run again, compared strictly, and guarded."""
