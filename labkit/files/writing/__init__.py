"""A print file made: the sheet strip by strip, the TIFF that holds it, its record and its name."""
