"""The lessons' apps through their widgets' values, as the browser would set them, without a browser."""
