"""What shows only across the files of a folder, and what a run of them takes."""
