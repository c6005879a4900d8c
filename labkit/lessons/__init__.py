"""The lessons' apps, one module a notebook. The only place that imports ipywidgets."""
