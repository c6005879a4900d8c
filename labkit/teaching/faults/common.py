"""The common faults: common practice, no source."""

from fractions import Fraction

from labkit.teaching.faults.hand_in import coarse, having, moved, on_sheet, stating
from labkit.teaching.faults.sorts import Fault

_INCH = Fraction(1)

COMMON = (
    Fault(
        "wrong resolution on the label",
        1,
        "send back",
        "Your pixels are right, but the file says too few of them go to an inch, so it would print "
        "several times too large. Set the resolution without resampling.",
        ("resolution-label",),
        (stating(72), stating(96)),
    ),
    Fault(
        "no sheet round it",
        1,
        "send back",
        "This is the picture alone, so I would have to guess where it goes. Make a blank file the size "
        "of your sheet and place the picture in it.",
        ("picture-without-sheet",),
        (having(alone=True),),
    ),
    Fault(
        "JPEG instead of TIFF",
        1,
        "ask",
        "A JPEG loses a little each time it is saved. Have you the original? Then save that as TIFF with "
        "LZW; if this is all there is, I can print it.",
        ("format",),
        (having(kind="JPEG"), having(kind="JPEG", quality=80)),
    ),
    Fault(
        "too few pixels",
        1,
        "ask",
        "At this size you will see that it is soft. Have you a file with more pixels, or may it be "
        "smaller?",
        ("ppi-floor",),
        (coarse(150), coarse(180), coarse(200)),
    ),
    Fault(
        "a little off its place",
        1,
        "ask",
        "It lies a little to one side, which is seldom meant and shows on a wall. Is it meant so?",
        ("off-centre",),
        (moved(_INCH / 20), moved(-_INCH / 15), moved(_INCH / 10)),
    ),
    Fault(
        "a flag that turns it",
        1,
        "ask",
        "The pixels lie another way round than you see them: a hidden flag turns the file, and not every "
        "program obeys it. Which way up is it? Best turn it yourself and save it again.",
        ("turned-flag",),
        (having(flag=6), having(flag=8), having(flag=3)),
    ),
    Fault(
        "layers",
        1,
        "send back",
        "Your file still has layers, and they may look different here. Flatten it and save it again.",
        ("layers",),
        (having(layers=True),),
    ),
    Fault(
        "CMYK",
        1,
        "send back",
        "The printer takes RGB and makes its own inks of it. Convert it to RGB, best from the file you "
        "had before.",
        ("cmyk-unknown",),
        (having(mode="CMYK", profile=""),),
    ),
    Fault(
        "no profile",
        1,
        "ask",
        "The file does not say which colours its numbers mean. Do you know what you worked in? If it "
        "was sRGB, save it again with that profile in it.",
        ("profile-missing",),
        (having(profile=""),),
    ),
    Fault(
        "a name from a camera or scanner",
        1,
        "ask",
        "The name does not say whose it is, what it is, or what size. Is this yours, and is it the right "
        "file? Then rename it.",
        ("name-camera",),
        (having(name="scan 0412"), having(name="20261014_153012"), having(name="image (3)")),
    ),
    Fault(
        "transparent parts",
        1,
        "send back",
        "Parts of it are transparent, and nobody can say what will show there. Flatten it onto white.",
        ("transparency",),
        (having(mode="RGBA", clear=True),),
    ),
    Fault(
        "a sheet that is not kept here",
        1,
        "ask",
        "We keep no sheet of that size, so it would come off a roll and be cut, which costs more time. "
        "Do you want that, or will one of our sheets do?",
        ("sheet-unstocked",),
        (on_sheet("9x12in"), on_sheet("10x12in")),
    ),
)
