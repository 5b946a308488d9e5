"""The pages, one a file, each with one `show()`."""
