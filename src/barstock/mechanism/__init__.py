"""Will it move? The springs, guides and ride of a build are worked out and judged here."""
