"""The course around the lessons: what a teacher needs, the editions, the glossary, the pages without a kernel."""
