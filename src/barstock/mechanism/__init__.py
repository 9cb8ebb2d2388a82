"""The mechanism package answers whether a build will move: springs, guides, a vehicle's ride."""
