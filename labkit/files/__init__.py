"""Bytes in, bytes out: picture files and print files, read, looked at, checked and written."""
