"""Many sites under one budget: each site's curve, then one choice among all of them."""
