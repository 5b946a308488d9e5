"""What lies on the table while a quilt is made: templates to trace and measures to mark by."""
