"""Parts drawn as the trade draws them: views, dimensions, title block."""
