"""The search: thousands of builds through the same review, what fails where, and which of them nothing else beats."""
