"""Pages of HTML: the job ticket, and the report of a check."""
