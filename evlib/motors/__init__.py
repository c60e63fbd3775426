"""Motors: what machines give from a sagging pack, which limit governs, and for how long."""
