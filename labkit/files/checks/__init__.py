"""What is found in a file, one family of findings a module, and the sentences that tell it."""
