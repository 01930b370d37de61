"""From plan and drawer to design, one stage a file."""
