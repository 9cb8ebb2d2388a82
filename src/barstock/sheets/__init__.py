"""Part drawings: laid out on paper, written as SVG, DXF and PDF. May import methods and below."""
