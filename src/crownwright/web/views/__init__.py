"""From a plan to what a page shows: plain values, no markup but the drawings'."""
