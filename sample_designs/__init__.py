"""Which designs come with the program: invented examples as JSON, read by engine.samples."""
