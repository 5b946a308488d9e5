"""One document for PDF and HTML: what stands on the pages first, then how it is printed."""
