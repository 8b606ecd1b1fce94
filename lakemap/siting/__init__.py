"""Where new floats may go: allowed water, ranked sites, how many fit, how conflicts end."""
