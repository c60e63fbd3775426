"""Every check on a build, one file a topic."""
