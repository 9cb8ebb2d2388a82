"""Will it move: springs, guides and tilt, the ride of a vehicle on its track."""
