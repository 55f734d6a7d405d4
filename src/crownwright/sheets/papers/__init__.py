"""Papers of a plan as PDF: what goes on them is gathered here, how they look is in the Typst templates."""
