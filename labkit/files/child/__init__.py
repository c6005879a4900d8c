"""The guarded child process in which strangers' files are read, and what is kept of its work."""
