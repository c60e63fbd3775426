"""The whole vehicle: build file, review, sheet, and every result that needs two topics."""
