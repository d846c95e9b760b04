"""Letters on their way out: written down with what they are about, sent after the commit, never twice."""
