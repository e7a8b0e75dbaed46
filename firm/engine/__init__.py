"""What the firm reckons with: figures in, figures out, no framework, no clock."""
