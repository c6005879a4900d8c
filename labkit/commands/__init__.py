"""The command line, one module a command; none of them imports a lesson."""
