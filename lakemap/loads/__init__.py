"""What works on a float: boat wakes and people; wind and waves come later."""
