"""From file to floor: reading, units, quality, axes, cropping, thinning, unseen patches."""
