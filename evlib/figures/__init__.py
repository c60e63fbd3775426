"""What is drawn: one figure style, one drawing code per picture, and the scene that live panels are drawn from."""
