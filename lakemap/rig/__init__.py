"""The rig: hydrostatics, blocks, lengths, placement, swing and first sizing."""
