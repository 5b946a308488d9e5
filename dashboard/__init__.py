"""What a maker sees: the engine's numbers as pages, tables and pictures. No formula lives here."""
