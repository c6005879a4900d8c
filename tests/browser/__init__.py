"""The lessons in JupyterLab, in a real Chromium."""
