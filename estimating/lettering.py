"""Whether a flat decal lies on a round balloon without puckering."""
