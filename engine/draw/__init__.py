"""One drawing for the screen, the HTML sheet and the PDF: shapes first, then what they are drawn with."""
