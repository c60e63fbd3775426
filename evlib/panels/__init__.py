"""What the learner moves: one ``Panel`` class, and static pictures with their text twin."""
