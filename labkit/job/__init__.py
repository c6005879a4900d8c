"""One job from picture to print file and ticket: the words of a notebook, and of the command line."""
