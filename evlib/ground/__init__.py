"""The ground floor: what every topic stands on, and physics that two topics share."""
