"""The arithmetic of paper: lengths, sheets, resolution, proportion, placing, trimming.

Nothing in here opens a file, touches a pixel, knows a widget or reads the print room's rules:
every figure arrives as a value.
"""
