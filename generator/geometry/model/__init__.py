"""A model to turn and measure on a tablet: few faces, small, and true within a bound that was measured."""
