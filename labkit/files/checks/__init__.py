"""What a check asks of a file, one family of findings a module."""
