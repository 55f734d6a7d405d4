"""Draw once, write many: shapes in metres, ink in mm on paper, SVG and DXF."""
