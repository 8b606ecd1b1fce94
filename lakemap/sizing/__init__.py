"""The rig computed: what the storm asks of every part, and whether the rig gives it."""
