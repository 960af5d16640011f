"""The frozen answers.  Screens, papers and commands know these and nothing below."""
