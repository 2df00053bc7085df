"""Three sets of body proportions: segment lengths, masses and centres of mass.

Lengths and heights are shares of stature, masses shares of body mass (limb masses per side), centres
of mass shares of the segment measured from its proximal end (for the foot: from the heel).

Sources
    female, male  de Leva P. (1996) Journal of Biomechanics 29(9):1223-1230, Table 4: masses, centres of
                  mass and mean lengths over the mean statures 1735 mm and 1741 mm (checked on two
                  secondary copies). L5/S1 height: Dumas, Cheze, Verriest (2007) Journal of Biomechanics
                  40:543-553, from memory.
    neutral       Masses and centres of mass: Dempster as tabulated in Winter, Biomechanics and Motor
                  Control of Human Movement, Table 4.1. Lengths: Drillis and Contini (1966) as drawn in
                  Winter (both checked on secondary copies). The hand is taken as half the hand length,
                  and the heights of the three trunk parts are set so that they reproduce Winter's centre
                  of mass of the whole trunk: common practice, no source.
The published masses of the women add up to .9999 and the lengths of a chain need not add up to
stature; both are left as published.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Part:
    """One segment: length as a share of stature, centre of mass as a share of length, share of mass."""

    length: float
    centre: float
    mass: float


@dataclass(frozen=True)
class TrunkPart:
    """One part of the trunk: height of its centre of mass above the hip axis, share of mass."""

    centre_height: float
    mass: float


@dataclass(frozen=True)
class Table:
    """Proportions of one body."""

    thigh: Part
    shank: Part
    foot: Part
    upper_arm: Part
    forearm: Part
    hand: Part
    wrist_to_fingertip: float
    lumbosacral: float
    upper_joint: float
    shoulder: float
    c7: float
    crown: float
    pelvis: TrunkPart
    abdomen: TrunkPart
    thorax: TrunkPart
    head: TrunkPart

    def total_mass(self) -> float:
        """Sum of all segment masses as a share of body mass."""
        limbs = (self.thigh, self.shank, self.foot, self.upper_arm, self.forearm, self.hand)
        trunk = (self.pelvis, self.abdomen, self.thorax, self.head)
        return 2 * sum(part.mass for part in limbs) + sum(part.mass for part in trunk)


TABLES = {
    "female": Table(
        thigh=Part(0.21239, 0.3612, 0.1478),
        shank=Part(0.25280, 0.4352, 0.0481),
        foot=Part(0.13159, 0.4014, 0.0129),
        upper_arm=Part(0.15856, 0.5754, 0.0255),
        forearm=Part(0.15233, 0.4559, 0.0138),
        hand=Part(0.04496, 0.7474, 0.0056),
        wrist_to_fingertip=0.09804,
        lumbosacral=0.0660,
        upper_joint=0.22294,
        shoulder=0.28697,
        c7=0.35435,
        crown=0.49481,
        pelvis=TrunkPart(0.05314, 0.1247),
        abdomen=TrunkPart(0.16955, 0.1465),
        thorax=TrunkPart(0.28799, 0.1545),
        head=TrunkPart(0.42681, 0.0668),
    ),
    "male": Table(
        thigh=Part(0.24250, 0.4095, 0.1416),
        shank=Part(0.25290, 0.4395, 0.0433),
        foot=Part(0.14825, 0.4415, 0.0137),
        upper_arm=Part(0.16180, 0.5772, 0.0271),
        forearm=Part(0.15445, 0.4574, 0.0162),
        hand=Part(0.04951, 0.7900, 0.0061),
        wrist_to_fingertip=0.10793,
        lumbosacral=0.0531,
        upper_joint=0.20747,
        shoulder=0.29609,
        c7=0.34653,
        crown=0.48605,
        pelvis=TrunkPart(0.03251, 0.1117),
        abdomen=TrunkPart(0.15174, 0.1633),
        thorax=TrunkPart(0.27608, 0.1596),
        head=TrunkPart(0.41626, 0.0694),
    ),
    "neutral": Table(
        thigh=Part(0.245, 0.433, 0.1000),
        shank=Part(0.246, 0.433, 0.0465),
        foot=Part(0.152, 0.485, 0.0145),
        upper_arm=Part(0.186, 0.436, 0.0280),
        forearm=Part(0.146, 0.430, 0.0160),
        hand=Part(0.054, 0.506, 0.0060),
        wrist_to_fingertip=0.108,
        lumbosacral=0.0600,
        upper_joint=0.1650,
        shoulder=0.2880,
        c7=0.3305,
        crown=0.4700,
        pelvis=TrunkPart(0.0716, 0.142),
        abdomen=TrunkPart(0.1276, 0.139),
        thorax=TrunkPart(0.1948, 0.216),
        head=TrunkPart(0.4000, 0.081),
    ),
}

STATURE_M = 1.70  # every picture is drawn at this stature with the neutral table

# Shared by all tables, shares of stature. Half widths between joints: common practice, no source.
HIP_HALF_WIDTH = 0.050
SHOULDER_HALF_WIDTH = 0.110
COLLAR_BONE = 0.095  # from its inner end to above the shoulder joint: common practice, no source

# Foot box. Ankle height above the sole: Drillis and Contini (1966) as drawn in Winter. The rest, as
# shares of foot length measured from the heel: common practice, no source.
ANKLE_HEIGHT = 0.039
ANKLE_FROM_HEEL = 0.25
BALL_FROM_HEEL = 0.72
ARCH_FROM_HEEL = 0.50
INSTEP_FROM_HEEL = 0.62
INSTEP_HEIGHT = 0.028
PALM_ON_HAND = 0.80  # where the palm presses, share of wrist to knuckle: common practice, no source
