"""From a field folder to frozen records, with every problem gathered."""
