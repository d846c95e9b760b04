"""The cautions printed on every quote and run sheet. They defer to the venue, local code and licensed practice."""

CHOKING = (
    "WARNING: CHOKING HAZARD—Children under 8 yrs. can choke or suffocate on uninflated or broken balloons. "
    "Adult supervision required. Keep uninflated balloons from children. Discard broken balloons at once."
)
"""The statement that 16 CFR 1500.19(b)(2) and 15 U.S.C. 1278 ask for beside latex balloons in the United States."""

LATEX = "Natural rubber latex may cause allergies. Tell us before the day if any guest or worker is allergic."
HANGING = (
    "Nothing is hung from sprinklers, detectors or exit signs, and exits stay clear. Where we may hang, and from what, "
    "is the venue’s to decide; local code comes first, and rigging that needs a licence is done by someone who has one."
)
OUTDOORS = (
    "Outdoors, wind, sun and rain shorten the life of balloons. We do not install in wind above what is safe, "
    "and may move indoors or stop for it on the day."
)


def cautions_for(*, outdoors: bool) -> list[str]:
    """The cautions for a job, each a paragraph; a piece outdoors adds the weather."""
    return [CHOKING, LATEX, HANGING, *([OUTDOORS] if outdoors else [])]


DISPOSAL = (
    "Never let a balloon go, of latex or of foil: in some states and countries it is an offence, and it harms animals.",
    "Deflate or burst every balloon before it goes in a bag: cut latex at the neck, slit foil. Mind eyes and ears, and "
    "keep children away until the last scrap is picked up.",
    "Used latex is waste: how it is sorted is for the venue and the local rules to say. Foil and ribbon go apart.",
)
"""Said on the strike's page. Florida Stat. 379.233 and others forbid a release; the rest is common practice."""
